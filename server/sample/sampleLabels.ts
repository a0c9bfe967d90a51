import type { Transaction } from "../../db/connect.ts";
import { sampleLabelMaker, sampleSheets } from "../../db/demo/labels.ts";
import type { Actor } from "../http/visitor.ts";
import { changeLabelMaker } from "../labels/changeLabelMaker.ts";
import { addSheet } from "../labels/writeSheet.ts";
import { taken } from "./known.ts";

/** Who stands on the labels, and the sheets they are printed on. */
export async function addSampleLabels(transaction: Transaction, actor: Actor): Promise<void> {
  taken(await changeLabelMaker(transaction, actor, sampleLabelMaker));
  for (const sheet of sampleSheets) taken(await addSheet(transaction, actor, sheet));
}
