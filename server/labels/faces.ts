import { createRequire } from "node:module";
import { type Font, openSync } from "fontkit";
import type { Face, Faces, Weight } from "./layout.ts";

/*
 * The one family that papers are printed in, embedded so that a label looks alike wherever it is printed: wide Latin,
 * Cyrillic and Greek, under the SIL Open Font License.
 */

const require = createRequire(import.meta.filename);

/** The files of the family. */
export const faceFiles: Readonly<Record<Weight, string>> = {
  regular: require.resolve("@expo-google-fonts/alegreya-sans/400Regular/AlegreyaSans_400Regular.ttf"),
  bold: require.resolve("@expo-google-fonts/alegreya-sans/700Bold/AlegreyaSans_700Bold.ttf"),
};

/** Figures as high as capitals, all on the line: the family's own hang below it. */
export const faceFeatures = ["lnum"] as const;

/** Opens and measures the family; some milliseconds, to be done once. */
export function openFaces(): Faces {
  return { regular: measured(faceFiles.regular), bold: measured(faceFiles.bold) };
}

function measured(file: string): Face {
  const font = openSync(file) as Font;
  const heightOf = (letter: string) =>
    Math.min(...font.layout(letter, [...faceFeatures]).glyphs.map(({ bbox }) => bbox.maxY)) / font.unitsPerEm;
  const known = new Map<string, number>();
  return {
    widthOf(words) {
      const width = known.get(words) ?? font.layout(words, [...faceFeatures]).advanceWidth / font.unitsPerEm;
      if (known.size < MOST_KNOWN) known.set(words, width);
      return width;
    },
    capitalHeight: heightOf("H"),
    // "x" stands between the lines without the overshoot of a round "o", so it is never taken for taller than it is.
    smallHeight: heightOf("x"),
    figureHeight: heightOf("0123456789"),
  };
}

/** Widths that are remembered: the same words are tried at many sizes. */
const MOST_KNOWN = 20_000;
