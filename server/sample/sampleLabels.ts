import type { Transaction } from "../../db/connect.ts";
import { sampleDurabilityMonths, sampleLabelMaker, sampleSheets } from "../../db/demo/labels.ts";
import type { Actor } from "../http/visitor.ts";
import { changeLabelMaker } from "../labels/changeLabelMaker.ts";
import { changeProductLabel } from "../labels/changeProductLabel.ts";
import { addSheet } from "../labels/writeSheet.ts";
import { taken } from "./known.ts";

/** Who stands on the labels, how long pieces keep, and the sheets they are printed on. */
export async function addSampleLabels(
  transaction: Transaction,
  actor: Actor,
  { products, today }: { readonly products: ReadonlyMap<string, number>; readonly today: string },
): Promise<void> {
  taken(await changeLabelMaker(transaction, actor, sampleLabelMaker));
  for (const productId of products.values()) {
    const label = { declaredMilligrams: null, gs1Number: null, durabilityMonths: sampleDurabilityMonths };
    taken(await changeProductLabel(transaction, actor, { ...label, productId, today }));
  }
  for (const sheet of sampleSheets) taken(await addSheet(transaction, actor, sheet));
}
