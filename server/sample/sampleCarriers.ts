import type { Transaction } from "../../db/connect.ts";
import { sampleCarriers } from "../../db/demo/carriers.ts";
import { addCarrier } from "../delivery/writeCarrier.ts";
import type { Actor } from "../http/visitor.ts";
import { taken } from "./known.ts";

/** Who carries the sample's parcels. */
export async function addSampleCarriers(transaction: Transaction, actor: Actor): Promise<void> {
  for (const { services, ...carrier } of sampleCarriers)
    taken(await addCarrier(transaction, actor, { ...carrier, services: [...services] }));
}
