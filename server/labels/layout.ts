/*
 * Words fitted into the area of a label: wrapped by the widths of the face they are printed in, as large as fits between
 * the least size and a comfortable one. Every length is micrometres; a size is that of the em, as fonts are measured.
 */

/** A face as its own file measures it; heights are shares of the em. */
export interface Face {
  /** How wide words are at a size of one em. */
  widthOf(words: string): number;
  readonly capitalHeight: number;
  /** Of a small letter without a stem, such as "o". */
  readonly smallHeight: number;
  /** Of the lowest of the figures, all of which stand on the line. */
  readonly figureHeight: number;
}

export type Weight = "regular" | "bold";
export type Faces = Readonly<Record<Weight, Face>>;

/** Words that stand together. */
export interface Block<Role extends string> {
  readonly role: Role;
  readonly words: string;
  readonly weight: Weight;
  readonly leastSize: number;
  readonly comfortableSize: number;
  readonly align: "left" | "centre";
  /** Stands at the lower edge, with what is free above it. */
  readonly atFoot?: boolean;
}

export interface Area {
  readonly width: number;
  readonly height: number;
  /** A circle, or an ellipse, as wide and as high. */
  readonly isRound: boolean;
}

/** One line of words; places are from the area's upper left corner. */
export interface Line<Role extends string> {
  readonly role: Role;
  readonly words: string;
  readonly weight: Weight;
  readonly size: number;
  readonly left: number;
  readonly baseline: number;
  readonly width: number;
}

/** The lines, or by how much the words are too high and the longest of them too wide at their least size. */
export type Laid<Role extends string> =
  | { readonly fits: true; readonly lines: readonly Line<Role>[] }
  | { readonly fits: false; readonly tooHigh: number; readonly tooWide: number };

/** From one line to the next, and from its top to where letters stand, in ems: room for accents on capitals. */
const LINE = 1.15;
const ASCENT = 0.86;
/** Between two blocks, in ems of the second. */
const BETWEEN = 0.35;
/** Sizes that are tried between the least and the comfortable one. */
const STEPS = 24;
/** Heights at which the words in a circle may begin. */
const STARTS = 48;

/** The blocks one below the other, in the middle of the area, at the largest size that fits. */
export function layOut<Role extends string>(
  blocks: readonly Block<Role>[],
  area: Area,
  faces: Faces,
): Laid<Role> {
  for (let step = STEPS; step >= 0; step--) {
    const sized = blocks.map((block) => ({
      ...block,
      size: block.leastSize + (block.comfortableSize - block.leastSize) * (step / STEPS),
    }));
    const lines = area.isRound ? placeInCircle(sized, area, faces) : placeInBox(sized, area, faces);
    if (lines) return { fits: true, lines };
  }
  return { fits: false, ...overflow(blocks, area, faces) };
}

type Sized<Role extends string> = Block<Role> & { readonly size: number };

function placeInBox<Role extends string>(
  blocks: readonly Sized<Role>[],
  area: Area,
  faces: Faces,
): readonly Line<Role>[] | null {
  const flowed = flow(blocks, 0, () => ({ left: 0, width: area.width }), faces);
  const free = area.height - flowed.bottom;
  if (flowed.tooWide > 0 || free < 0) return null;
  const atFoot = new Set(blocks.filter((block) => block.atFoot).map(({ role }) => role));
  return flowed.lines.map((line) => ({
    ...line,
    baseline: line.baseline + (atFoot.has(line.role) ? free : free / 2),
  }));
}

/** Of the heights at which the words may begin, the one that leaves as much free above as below. */
function placeInCircle<Role extends string>(
  blocks: readonly Sized<Role>[],
  area: Area,
  faces: Faces,
): readonly Line<Role>[] | null {
  let best: { readonly off: number; readonly lines: readonly Line<Role>[] } | null = null;
  for (let start = 0; start < STARTS; start++) {
    const top = (area.height / 2) * (start / STARTS);
    const flowed = flow(blocks, top, (from, to) => chord(area, from, to), faces);
    const off = Math.abs(area.height - flowed.bottom - top);
    if (flowed.tooWide > 0 || flowed.bottom > area.height) continue;
    if (!best || off < best.off) best = { off, lines: flowed.lines };
  }
  return best?.lines ?? null;
}

/** The part of a line that lies within the circle over its whole height. */
function chord({ width, height }: Area, from: number, to: number): { left: number; width: number } {
  const away = Math.max(Math.abs(from - height / 2), Math.abs(to - height / 2)) / (height / 2);
  const half = away >= 1 ? 0 : (width / 2) * Math.sqrt(1 - away * away);
  return { left: width / 2 - half, width: 2 * half };
}

interface Flowed<Role extends string> {
  readonly lines: readonly Line<Role>[];
  readonly bottom: number;
  /** By how much the widest word is wider than its line. */
  readonly tooWide: number;
}

/** Sets word after word from the top, each line as wide as the room at its height. */
function flow<Role extends string>(
  blocks: readonly Sized<Role>[],
  top: number,
  roomAt: (from: number, to: number) => { readonly left: number; readonly width: number },
  faces: Faces,
): Flowed<Role> {
  const lines: Line<Role>[] = [];
  let bottom = top;
  let tooWide = 0;
  for (const [place, block] of blocks.entries()) {
    const { size, role, weight } = block;
    if (place > 0) bottom += BETWEEN * size;
    const rest = wordsOf(block.words);
    while (rest.length > 0) {
      const room = roomAt(bottom, bottom + LINE * size);
      const { words, width } = takeLine(rest, room.width / size, faces[weight]);
      tooWide = Math.max(tooWide, width * size - room.width);
      const free = Math.max(0, room.width - width * size);
      lines.push({
        ...{ role, words, weight, size, width: width * size, baseline: bottom + ASCENT * size },
        left: room.left + (block.align === "centre" ? free / 2 : 0),
      });
      bottom += LINE * size;
    }
  }
  return { lines, bottom, tooWide };
}

/** Between blanks; a number keeps its unit, as in "70 mm" or "124 g)". */
function wordsOf(text: string): string[] {
  const words: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = words.at(-1);
    if (last !== undefined && /^[\d.,]*\d$|\(\d+$/.test(last) && /^[a-z]{1,2}\W*$/.test(word))
      words[words.length - 1] = `${last} ${word}`;
    else if (word !== "") words.push(word);
  }
  return words;
}

/** Takes from the front of the words as many as fit into a line, at least one. */
function takeLine(rest: string[], room: number, face: Face): { words: string; width: number } {
  let words = rest.shift() ?? "";
  let width = face.widthOf(words);
  for (let next = rest[0]; next !== undefined; next = rest[0]) {
    const wider = face.widthOf(`${words} ${next}`);
    if (wider > room) break;
    words = `${words} ${next}`;
    width = wider;
    rest.shift();
  }
  return { words, width };
}

/** At the least sizes; of a circle the largest square in it counts, which its words can always fill. */
function overflow<Role extends string>(blocks: readonly Block<Role>[], area: Area, faces: Faces) {
  const share = area.isRound ? Math.SQRT1_2 : 1;
  const box = { width: area.width * share, height: area.height * share };
  const least = blocks.map((block) => ({ ...block, size: block.leastSize }));
  const { bottom, tooWide } = flow(least, 0, () => ({ left: 0, width: box.width }), faces);
  return { tooHigh: Math.max(0, Math.ceil(bottom - box.height)), tooWide: Math.max(0, Math.ceil(tooWide)) };
}
