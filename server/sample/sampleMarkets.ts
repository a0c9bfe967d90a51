import type { Transaction } from "../../db/connect.ts";
import { samplePastMarkets, sampleStalls } from "../../db/demo/markets.ts";
import { sampleCurrency } from "../../db/demo/prices.ts";
import { dateAway } from "../../views/format/dates.ts";
import type { Actor } from "../http/visitor.ts";
import { chooseList } from "../markets/chooseList.ts";
import { countMarket, countSeen } from "../markets/countMarket.ts";
import { habitRule } from "../markets/habitRule.ts";
import { planMarket } from "../markets/planMarket.ts";
import { setHabit } from "../markets/setHabit.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { known, taken } from "./known.ts";

interface SampleMarkets {
  readonly products: ReadonlyMap<string, number>;
  readonly customers: ReadonlyMap<string, number>;
  /** Orders by reference: the crate lists are among them. */
  readonly orders: ReadonlyMap<string, number>;
  /** The Saturday of the sample's crate list, and the day its fair's crate leaves; ISO 8601. */
  readonly saturday: string;
  readonly fairLeaves: string;
}

/** The stalls with what they sold before, the two markets of the crate lists, and one that has none yet. */
export async function addSampleMarkets(
  transaction: Transaction,
  actor: Actor,
  sample: SampleMarkets,
): Promise<void> {
  const { customers, orders, saturday } = sample;
  for (const stall of sampleStalls) {
    const { comesAgain } = stall;
    taken(
      await setHabit(transaction, actor, {
        ...usually(stall, customers),
        rule: comesAgain ? habitRule("weekly", 1, saturday) : null,
        startsOn: comesAgain ? saturday : null,
        endsOn: null,
      }),
    );
  }
  await addPastMarkets(transaction, actor, sample);
  const [green, fair] = sampleStalls;
  const planned = [
    { stall: green, heldOn: saturday, list: "M-101" },
    { stall: green, heldOn: dateAway(saturday, 7), list: null },
    { stall: fair, heldOn: dateAway(sample.fairLeaves, 1), list: "M-102" },
  ];
  for (const { stall, heldOn, list } of planned) {
    const facts = { ...usually(stall, customers), heldOn, note: "" };
    const { marketId } = taken(await planMarket(transaction, actor, facts));
    if (list !== null)
      taken(await chooseList(transaction, actor, { marketId, orderId: known(orders, list) }));
  }
}

function usually(
  { customer, comesAgain: _, feeMinor, ...stall }: (typeof sampleStalls)[number],
  customers: ReadonlyMap<string, number>,
) {
  const customerId = known(customers, customer);
  return { ...stall, customerId, feeMinor: minorUnits(feeMinor), currency: sampleCurrency };
}

async function addPastMarkets(
  transaction: Transaction,
  actor: Actor,
  { products, customers, saturday }: SampleMarkets,
): Promise<void> {
  for (const { customer, daysBefore, outcomes } of samplePastMarkets) {
    const stall = sampleStalls.find((one) => one.customer === customer);
    if (!stall) throw new Error(`The sample has no stall ${customer}`);
    const heldOn = dateAway(saturday, -daysBefore);
    const { marketId } = taken(
      await planMarket(transaction, actor, { ...usually(stall, customers), heldOn, note: "" }),
    );
    const rows = Object.entries(outcomes).map(([code, [takenUnits, homeUnits, soldOutMinute = null]]) => ({
      productId: known(products, code),
      ...{ takenUnits, homeUnits, givenAwayUnits: 0, soldOutMinute },
    }));
    taken(await countMarket(transaction, actor, { marketId, rows, seen: countSeen([]) }));
  }
}
