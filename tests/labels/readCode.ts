import jsQR from "jsqr";
import type { PrintedSquare } from "./readPdf.ts";

/** Looks at the squares on paper with a camera of eight dots a square, and reads the code. */
export function readCode(drawn: readonly PrintedSquare[]): string | undefined {
  const quiet = 4;
  const dots = 8;
  const left = Math.min(...drawn.map((square) => square.left));
  const top = Math.min(...drawn.map((square) => square.top));
  const right = Math.max(...drawn.map((square) => square.left + square.width));
  const one = drawn[0]?.width ?? 1;
  const edge = (Math.round((right - left) / one) + 2 * quiet) * dots;
  const pixels = new Uint8ClampedArray(edge * edge * 4).fill(255);
  for (const square of drawn) {
    const column = Math.round((square.left - left) / one) + quiet;
    const row = Math.round((square.top - top) / one) + quiet;
    for (let dot = 0; dot < dots * dots; dot++) {
      const at = ((row * dots + Math.floor(dot / dots)) * edge + column * dots + (dot % dots)) * 4;
      pixels.fill(0, at, at + 3);
    }
  }
  // The library's types say otherwise than its file under Node.
  const read = jsQR as unknown as typeof import("jsqr")["default"];
  return read(pixels, edge, edge)?.data;
}
