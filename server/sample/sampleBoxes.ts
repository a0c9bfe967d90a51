import type { Transaction } from "../../db/connect.ts";
import { sampleBoxes } from "../../db/demo/boxes.ts";
import type { Actor } from "../http/visitor.ts";
import { addBoxSize } from "../packing/writeBoxSize.ts";
import { entriesOf, known, taken } from "./known.ts";

/** What the sample's orders leave in. */
export async function addSampleBoxes(
  transaction: Transaction,
  actor: Actor,
  shapes: ReadonlyMap<string, number>,
): Promise<void> {
  for (const { name, tareGrams, innerMm, holds } of sampleBoxes) {
    const [innerLengthMm, innerWidthMm, innerHeightMm] = innerMm;
    const size = { name, tareMilligrams: tareGrams * 1000, innerLengthMm, innerWidthMm, innerHeightMm };
    const filled = entriesOf(holds).map(([shape, units]) => ({ shapeId: known(shapes, shape), units }));
    taken(await addBoxSize(transaction, actor, { size, holds: filled }));
  }
}
