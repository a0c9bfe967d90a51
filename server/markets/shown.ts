import type { Database } from "../../db/connect.ts";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { countSeen } from "./countMarket.ts";
import { readCrateOut, takenOf } from "./crateOut.ts";
import { crateSeen } from "./fillCrate.ts";
import { advise } from "./learn.ts";
import {
  hasLeft,
  listCounts,
  listCrate,
  listFreeLists,
  listMarketChanges,
  listStallProducts,
  type MarketRow,
} from "./queries.ts";
import { readReport } from "./report.ts";

/** One market with everything its page shows. */
export async function showMarket(
  db: Database,
  market: MarketRow,
  { today, tried }: { readonly today: string; readonly tried: Tried },
) {
  const list = market.orderState === null || market.orderState === "cancelled" ? null : market.orderId;
  const open = !market.countedAt && !market.calledOffAt && (list === null || market.orderState === "draft");
  return {
    market,
    today,
    currency: await readCurrency(db),
    trouble: tried.trouble ?? null,
    left: list !== null && (await hasLeft(db, list)),
    crate: list === null ? [] : await listCrate(db, list),
    advised: open
      ? {
          ...(await advise(db, market)),
          seen: await crateSeen(db, market.orderId),
          answer: tried.crate ?? null,
        }
      : null,
    freeLists: open && list === null ? await listFreeLists(db, market.customerId) : [],
    report: market.countedAt ? await readReport(db, { marketId: market.id }) : null,
    changes: await listMarketChanges(db, market.id),
  };
}

interface Tried {
  readonly crate?: FormAnswer;
  readonly trouble?: string | undefined;
}

/** What the counting page shows: a row for each product that was or may have been on the stall. No money. */
export async function showCount(
  db: Database,
  { id, customer, heldOn, opensMinute, closesMinute, countedAt, calledOffAt, ...market }: MarketRow,
  { today, answer }: { readonly today: string; readonly answer: FormAnswer | null },
) {
  const list = market.orderState === "cancelled" ? null : market.orderId;
  const crate = list === null ? null : takenOf(await readCrateOut(db, list));
  const counts = await listCounts(db, [id]);
  const counted = new Map(counts.map((count) => [count.productId, count]));
  const products = await listStallProducts(db, crate ? [0, ...crate.keys()] : undefined);
  const retired = counts.filter(({ productId }) => !products.some((one) => one.productId === productId));
  const shown = [...products, ...(crate ? [] : retired)];
  return {
    market: { id, customer, heldOn, opensMinute, closesMinute, counted: countedAt !== null },
    state: stateOf({ calledOff: calledOffAt !== null, notYet: heldOn > today, crate }),
    waitsFor: list === null ? null : { orderId: list, reference: market.reference ?? "" },
    rows: shown.map(({ productId, product, look }) => ({
      productId,
      product,
      look,
      takenUnits: crate?.get(productId) ?? null,
      count: counted.get(productId) ?? null,
    })),
    seen: countSeen(counts),
    answer,
  };
}

type CountState = "called-off" | "not-yet" | "crate-here" | "open";

function stateOf(facts: {
  readonly calledOff: boolean;
  readonly notYet: boolean;
  readonly crate: ReadonlyMap<number, number> | null;
}): CountState {
  if (facts.calledOff) return "called-off";
  if (facts.notYet) return "not-yet";
  return facts.crate?.size === 0 ? "crate-here" : "open";
}
