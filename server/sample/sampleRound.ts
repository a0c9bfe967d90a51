import type { Transaction } from "../../db/connect.ts";
import { sampleDriving, sampleRoundMinutes, sampleRoundPlaces } from "../../db/demo/round.ts";
import type { Actor } from "../http/visitor.ts";
import { changeDriving, writePlace } from "../round/writePlace.ts";
import { known, taken } from "./known.ts";

/** Where the sample's round goes, and how it is driven. */
export async function addSampleRound(
  transaction: Transaction,
  actor: Actor,
  customers: ReadonlyMap<string, number>,
): Promise<void> {
  taken(await changeDriving(transaction, actor, sampleDriving));
  for (const { customer, ...point } of sampleRoundPlaces) {
    const { from, to, minutes } = sampleRoundMinutes;
    const drives = customer === from ? [{ toCustomerId: known(customers, to), minutes }] : [];
    const customerId = customer === null ? null : known(customers, customer);
    taken(await writePlace(transaction, actor, { customerId, ...point, drives }));
  }
}
