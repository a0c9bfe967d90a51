import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { carriers } from "../../db/schema/parcels.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import type { ParcelFacts } from "./parcelForms.ts";
import type { DeliveryRefusal } from "./refusals.ts";

type SentWith = Pick<ParcelFacts, "carrierId" | "service">;

/**
 * Holds a parcel against what there is to choose from; null when it can be kept. A carrier that is not in use any more,
 * or a service that it dropped, may stay where the parcel has it already.
 */
export async function whyNotParcel(
  transaction: Transaction,
  { carrierId, service, costMinor, currency }: ParcelFacts,
  kept: SentWith = { carrierId: null, service: "" },
): Promise<DeliveryRefusal | null> {
  if (costMinor !== undefined && (await holdCurrency(transaction)) !== currency)
    return { why: "currency-changed" };
  if (carrierId === null || (carrierId === kept.carrierId && service === kept.service)) return null;
  const [carrier] = await transaction.select().from(carriers).where(eq(carriers.id, carrierId)).for("share");
  if (!carrier || carrier.retiredAt !== null) return { why: "carrier-gone" };
  return service === "" || carrier.services.includes(service) ? null : { why: "carrier-gone" };
}
