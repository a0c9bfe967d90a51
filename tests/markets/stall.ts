import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { chooseList } from "../../server/markets/chooseList.ts";
import { countMarket, countSeen } from "../../server/markets/countMarket.ts";
import { planMarket } from "../../server/markets/planMarket.ts";
import { listCounts } from "../../server/markets/queries.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { insertOrder } from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";
import type { Packer } from "../packing/workroom.ts";

/** Saturday 6 March 2027. */
export const SATURDAY = "2027-03-06";
/** On its evening, when the crate has come home. */
export const EVENING = new Date("2027-03-06T17:00:00Z");

/** A market of four hours, 09:00 to 13:00, on a Saturday. */
export async function newMarket(
  maker: Packer,
  given: { readonly customerId: number; readonly heldOn?: string; readonly kind?: string },
): Promise<number> {
  const planned = await maker.do(planMarket, {
    kind: "",
    place: "Under the clock",
    opensMinute: 540,
    closesMinute: 780,
    feeMinor: minorUnits(3500),
    loadingMinutes: 60,
    currency: "EUR",
    heldOn: SATURDAY,
    note: "",
    ...given,
  });
  if (!planned.ok) throw new Error(`The market was refused: ${planned.refusal.why}`);
  return planned.value.marketId;
}

/** A crate that was packed from the given lots and has left for the market. */
export async function sendCrate(
  database: TestDatabase,
  maker: Packer,
  given: {
    readonly customerId: number;
    readonly marketId: number;
    readonly lots: readonly { readonly lotId: number; readonly productId: number; readonly units: number }[];
  },
): Promise<number> {
  const units = new Map<number, number>();
  for (const lot of given.lots) units.set(lot.productId, (units.get(lot.productId) ?? 0) + lot.units);
  const lines = [...units].map(([productId, sum]) => ({ productId, units: sum }));
  const { orderId, lineIds } = await insertOrder(database.db, {
    customerId: given.customerId,
    reference: `M-${100 + given.marketId}`,
    terms: "market",
    lines,
  });
  must(await maker.do(chooseList, { marketId: given.marketId, orderId }));
  for (const [place, { productId }] of lines.entries())
    must(
      await maker.do(packPieces, {
        orderId,
        orderLineId: lineIds[place] ?? 0,
        takes: given.lots.filter((lot) => lot.productId === productId),
        lastMoveSeen: Number.MAX_SAFE_INTEGER,
      }),
    );
  must(await maker.do(markPacked, { orderId, leavesShort: false }));
  must(await maker.do(shipOrder, { orderId, how: "market-crate", parcels: [] }));
  return orderId;
}

function must(outcome: { readonly ok: boolean }): void {
  if (!outcome.ok) throw new Error(`Refused: ${JSON.stringify(outcome)}`);
}

/** One product as somebody counted it; what was taken matters only where no crate tells it. */
export function counted(
  productId: number,
  homeUnits: number,
  more: Partial<{ takenUnits: number; givenAwayUnits: number; soldOutMinute: number }> = {},
) {
  return { productId, takenUnits: 0, homeUnits, givenAwayUnits: 0, soldOutMinute: null, ...more };
}

/** Counts on the evening, with what is written down now before her eyes. */
export async function countHome(
  database: TestDatabase,
  maker: Packer,
  given: { readonly marketId: number; readonly rows: readonly ReturnType<typeof counted>[] },
): Promise<string> {
  const seen = await seenNow(database, given.marketId);
  const outcome = await maker.do(countMarket, { ...given, seen }, EVENING);
  return outcome.ok ? "counted" : outcome.refusal.why;
}

export async function seenNow({ db }: TestDatabase, marketId: number): Promise<string> {
  return countSeen(await listCounts(db, [marketId]));
}
