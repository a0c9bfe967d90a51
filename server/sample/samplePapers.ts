import type { Transaction } from "../../db/connect.ts";
import { SAMPLE_BILLED_AHEAD, sampleLetterhead } from "../../db/demo/papers.ts";
import type { Actor } from "../http/visitor.ts";
import { changeLetterhead } from "../papers/letterhead.ts";
import { writeInvoice } from "../papers/writeInvoice.ts";
import { known, taken } from "./known.ts";

/** The heading of the sample's papers, and one order that is billed before it leaves. */
export async function addSamplePapers(
  transaction: Transaction,
  actor: Actor,
  orders: ReadonlyMap<string, number>,
): Promise<void> {
  taken(await changeLetterhead(transaction, actor, sampleLetterhead));
  const orderId = known(orders, SAMPLE_BILLED_AHEAD);
  taken(await writeInvoice(transaction, actor, { orderId, basis: "whole" }));
}
