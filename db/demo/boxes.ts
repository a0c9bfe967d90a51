import type { ShapeCode } from "./products.ts";

interface SampleBox {
  readonly name: string;
  readonly tareGrams: number;
  /** Length, width and height inside. */
  readonly innerMm: readonly [number, number, number];
  /** Pieces of each shape that fill it. */
  readonly holds: Readonly<Partial<Record<ShapeCode, number>>>;
}

/** Boxes the sample workshop sends its orders in, with names of its own. */
export const sampleBoxes: readonly SampleBox[] = [
  {
    name: "Shoe box",
    tareGrams: 180,
    innerMm: [300, 190, 110],
    holds: { "ball-60": 20, "heart-70": 16, "puck-40": 48 },
  },
  {
    name: "Tall carton",
    tareGrams: 420,
    innerMm: [380, 280, 200],
    holds: { "ball-60": 60, "heart-70": 48, "puck-40": 140 },
  },
];
