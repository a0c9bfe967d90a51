import { type BoxSize, suggestBoxes } from "./suggestBoxes.ts";

/** Pieces that go into boxes: of one product, or of one lot of it. */
export interface PiecesToBox {
  readonly product: string;
  /** Null: not taken from a lot yet. */
  readonly lotCode: string | null;
  readonly shapeId: number;
  readonly units: number;
  /** What one piece weighs. */
  readonly pieceMilligrams: number;
}

export interface NamedBoxSize extends BoxSize {
  readonly name: string;
}

/** One box, what lies in it, and what it weighs with that. */
export interface FilledBox {
  /** From 1. */
  readonly number: number;
  readonly of: number;
  readonly name: string;
  readonly content: readonly PiecesToBox[];
  readonly units: number;
  /** The empty box and the pieces; neither bags, ties and wraps nor filling. */
  readonly milligrams: number;
}

export interface BoxedPieces {
  readonly boxes: readonly FilledBox[];
  /** False: there may be a way with fewer or lighter boxes. */
  readonly isBest: boolean;
  /** What goes into none of the boxes. */
  readonly unboxed: readonly PiecesToBox[];
}

/** Suggests boxes for some pieces and lays the pieces into them, in the order in which they are given. */
export function boxUp(pieces: readonly PiecesToBox[], sizes: readonly NamedBoxSize[]): BoxedPieces {
  const byShape = new Map<number, number>();
  for (const { shapeId, units } of pieces) byShape.set(shapeId, (byShape.get(shapeId) ?? 0) + units);
  const { boxes, isBest, unboxed } = suggestBoxes(byShape, sizes);
  const left = pieces.map(({ units }) => units);
  const filled = boxes.map((box, place): FilledBox => {
    const size = sizes.find(({ id }) => id === box.sizeId);
    const content = takeOut(box.pieces, pieces, left);
    const weights = content.map(({ units, pieceMilligrams }) => units * pieceMilligrams);
    return {
      ...{ number: place + 1, of: boxes.length, name: size?.name ?? "", content },
      units: sumOf(content.map(({ units }) => units)),
      milligrams: sumOf(weights) + (size?.tareMilligrams ?? 0),
    };
  });
  return { boxes: filled, isBest, unboxed: pieces.filter(({ shapeId }) => unboxed.has(shapeId)) };
}

/** The next so many pieces of each shape; `left` is what is then still to be laid into boxes. */
function takeOut(
  wanted: ReadonlyMap<number, number>,
  pieces: readonly PiecesToBox[],
  left: number[],
): readonly PiecesToBox[] {
  const open = new Map(wanted);
  return pieces.flatMap((piece, at) => {
    const units = Math.min(open.get(piece.shapeId) ?? 0, left[at] ?? 0);
    if (units === 0) return [];
    open.set(piece.shapeId, (open.get(piece.shapeId) ?? 0) - units);
    left[at] = (left[at] ?? 0) - units;
    return [{ ...piece, units }];
  });
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}
