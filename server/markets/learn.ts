import { and, desc, eq, isNotNull, lt, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { markets } from "../../db/schema/markets.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { BASIS_POINTS, roundHalfUp } from "../money/exactShares.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";
import { orderTotals } from "../money/orderTotals.ts";
import { readMoneyTerms, readPrices } from "../prices/quote.ts";
import { MOST_LEARNED_FROM, showingOf } from "./market.ts";
import { listCounts, listStallProducts, type MarketRow, type StallProductRow } from "./queries.ts";
import { type Suggestion, suggest } from "./suggest.ts";

/** A product with what to take of it, and why. */
export interface Advice extends StallProductRow {
  readonly suggestion: Suggestion;
  /** What a piece earns when it is sold and has lost when it comes home; null where it has no price. */
  readonly money: { readonly earnsMinor: number; readonly losesMinor: MinorUnits } | null;
}

/** Which markets the advice rests on: those of its kind, of the same customer, or any. */
interface LearnedFrom {
  readonly from: "kind" | "customer" | "all";
  readonly markets: number;
}

/** What to take of each product in use to a market, learned from the markets counted before it. */
export async function advise(
  db: Database,
  market: MarketRow,
): Promise<{
  readonly advice: readonly Advice[];
  readonly learnedFrom: LearnedFrom;
  readonly currency: string;
}> {
  const products = await listStallProducts(db);
  const { past, from } = await pastMarkets(db, market);
  const hours = new Map(past.map((one) => [one.id, one]));
  const counts = groupBy(await listCounts(db, [0, ...hours.keys()]), ({ productId }) => productId);
  const { currency, moneyOf } = await readMargins(db, market, products);
  const suggestions = suggest(
    products.map((product) => ({
      ...product,
      ...moneyOf(product).weights,
      showings: (counts.get(product.productId) ?? []).flatMap((count) => {
        const held = hours.get(count.marketId);
        return (held && showingOf(count, held)) ?? [];
      }),
    })),
  );
  const advice = products.flatMap((product, place) => {
    const suggestion = suggestions[place];
    return suggestion ? [{ ...product, suggestion, money: moneyOf(product).money }] : [];
  });
  return { advice, learnedFrom: { from, markets: past.length }, currency };
}

/** The latest counted markets before this one: of its kind, or of its customer where it is of none; else of any. */
async function pastMarkets(db: Database, { heldOn, kind, customerId }: MarketRow) {
  const like =
    kind === "" ? eq(markets.customerId, customerId) : sql`lower(${markets.kind}) = lower(${kind})`;
  const counted = and(isNotNull(markets.countedAt), lt(markets.heldOn, heldOn));
  const alike = await latest(db, and(counted, like));
  if (alike.length > 0) return { past: alike, from: kind === "" ? ("customer" as const) : ("kind" as const) };
  return { past: await latest(db, counted), from: "all" as const };
}

async function latest(db: Database, where: ReturnType<typeof and>) {
  return await db
    .select({ id: markets.id, opensMinute: markets.opensMinute, closesMinute: markets.closesMinute })
    .from(markets)
    .where(where)
    .orderBy(desc(markets.heldOn), desc(markets.id))
    .limit(MOST_LEARNED_FROM);
}

/**
 * What a piece earns and loses at a market. Making it costs what its product says, else the workshop's share of the
 * price without tax; one that comes home has lost the workshop's share of that cost. Without a price the shares alone
 * weigh one against the other.
 */
async function readMargins(db: Database, market: MarketRow, products: readonly StallProductRow[]) {
  const day = market.heldOn;
  const terms = await readMoneyTerms(db, market.customerId, { shipBy: day });
  const [shares] = await db
    .select({ cost: workshop.makingCostBasisPoints, loss: workshop.leftoverLossBasisPoints })
    .from(workshop);
  if (!terms || !shares) throw new Error(`Market ${market.id} has no customer or no workshop`);
  const prices = await readPrices(db, { customerId: market.customerId, priceListId: terms.priceListId, day });
  const whole = Number(BASIS_POINTS);
  const bySharesAlone = { missed: whole - shares.cost, leftOver: (shares.cost * shares.loss) / whole };

  const moneyOf = ({ productId, makingCostMinor }: (typeof products)[number]) => {
    const price = prices.get(productId);
    if (!price) return { money: null, weights: bySharesAlone };
    const net = netOf(price.unitPriceMinor, terms);
    const cost = minorUnits(makingCostMinor ?? share(net, shares.cost));
    const money = { earnsMinor: net - cost, losesMinor: minorUnits(share(cost, shares.loss)) };
    return { money, weights: { missed: money.earnsMinor, leftOver: money.losesMinor } };
  };
  return { currency: terms.currency, moneyOf };
}

function share(amountMinor: number, basisPoints: number): bigint {
  return roundHalfUp(BigInt(amountMinor) * BigInt(basisPoints), BASIS_POINTS);
}

/** The price of a piece without the tax that may be in it. */
function netOf(
  unitPriceMinor: MinorUnits,
  { taxPpm, pricesIncludeTax }: { readonly taxPpm: number; readonly pricesIncludeTax: boolean },
): MinorUnits {
  const nothing = minorUnits(0);
  return orderTotals({
    lines: [{ units: 1, unitPriceMinor, discountBasisPoints: 0, taxPpm }],
    ...{ discountBasisPoints: 0, shippingMinor: nothing, shippingTaxPpm: 0 },
    pricesIncludeTax,
    rounding: "line",
  }).netMinor;
}
