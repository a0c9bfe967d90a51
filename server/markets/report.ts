import { and, desc, eq, isNotNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { markets } from "../../db/schema/markets.ts";
import { groupBy } from "../basics/groupBy.ts";
import { type MinorUnits, minorUnits, sumOf } from "../money/minorUnits.ts";
import type { OrderMoney } from "../prices/priceOrder.ts";
import { quoteAll } from "../prices/quote.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { isSoldOut, soldUnits } from "./market.ts";
import { type CountRow, listCounts } from "./queries.ts";

/** Markets of one report at most, the latest: two years of Saturdays. */
const MOST_MARKETS = 104;

/** What one product did at one market. */
interface ReportLine extends CountRow {
  readonly soldUnits: number;
  readonly soldOut: boolean;
  /** What was paid for what was sold, at the prices of the day, tax in it; null: there was no price. */
  readonly grossMinor: MinorUnits | null;
}

interface ReportMarket {
  readonly marketId: number;
  readonly customer: string;
  readonly heldOn: string;
  readonly kind: string;
  readonly feeMinor: number;
  readonly lines: readonly ReportLine[];
  readonly sums: Sums;
}

/** Pieces and money over some lines. */
export interface Sums {
  readonly takenUnits: number;
  readonly soldUnits: number;
  readonly homeUnits: number;
  readonly givenAwayUnits: number;
  /** Over what had a price. */
  readonly grossMinor: MinorUnits;
  /** Lines of which something was sold without a price: with any, the money is not the whole. */
  readonly unpriced: number;
}

interface ReportProduct {
  readonly productId: number;
  readonly product: string;
  readonly look: CountRow["look"];
  readonly markets: number;
  /** The minutes at which it was sold out, of markets where it was; null where nobody looked. */
  readonly soldOutMinutes: readonly (number | null)[];
  readonly sums: Sums;
}

export interface Report {
  readonly currency: string;
  /** The latest first. */
  readonly markets: readonly ReportMarket[];
  /** What sold best first. */
  readonly products: readonly ReportProduct[];
  readonly sums: Sums;
}

/** What past markets sold, by market and by product; of one market, of one kind ("" takes all), the latest 104. */
export async function readReport(
  db: Database,
  asked: { readonly kind?: string; readonly marketId?: number },
): Promise<Report> {
  const rows = await countedMarkets(db, asked);
  const counts = groupBy(await listCounts(db, [0, ...rows.map(({ id }) => id)]), ({ marketId }) => marketId);
  const money = await quoteAll(
    db,
    rows.map(({ id, ...market }) => salesOf(market, counts.get(id) ?? [])),
  );
  const reported = rows.map(({ id, customer, heldOn, kind, feeMinor }, place): ReportMarket => {
    const lines = priced(counts.get(id) ?? [], money[place]);
    return { marketId: id, customer, heldOn, kind, feeMinor, lines, sums: sumsOf(lines) };
  });
  const lines = reported.flatMap((market) => market.lines);
  return {
    currency: await readCurrency(db),
    markets: reported,
    products: byProduct(lines),
    sums: sumsOf(lines),
  };
}

async function countedMarkets(
  db: Database,
  { kind = "", marketId }: { readonly kind?: string; readonly marketId?: number },
) {
  return await db
    .select({
      id: markets.id,
      customerId: markets.customerId,
      customer: customers.name,
      heldOn: markets.heldOn,
      kind: markets.kind,
      feeMinor: markets.feeMinor,
    })
    .from(markets)
    .innerJoin(customers, eq(customers.id, markets.customerId))
    .where(
      and(
        isNotNull(markets.countedAt),
        kind === "" ? undefined : sql`lower(${markets.kind}) = lower(${kind})`,
        marketId === undefined ? undefined : eq(markets.id, marketId),
      ),
    )
    .orderBy(desc(markets.heldOn), desc(markets.id))
    .limit(MOST_MARKETS);
}

/** What was sold at one market, to be reckoned at the prices of its day. */
function salesOf(
  { customerId, heldOn }: { readonly customerId: number; readonly heldOn: string },
  counts: readonly CountRow[],
) {
  const sold = counts.filter((count) => soldUnits(count) > 0);
  return {
    ...{ customerId, today: heldOn, shipBy: heldOn },
    ...{ discountBasisPoints: 0, shippingMinor: minorUnits(0) },
    lines: sold.map((count) => ({
      ...{ productId: count.productId, units: soldUnits(count) },
      ...{ unitPriceMinor: null, discountBasisPoints: 0 },
    })),
  };
}

function priced(counts: readonly CountRow[], money: OrderMoney | undefined): readonly ReportLine[] {
  const gross = new Map(money?.lines.map((line) => [line.productId, line.amounts?.grossMinor ?? null]));
  return counts.map((count) => ({
    ...count,
    soldUnits: soldUnits(count),
    soldOut: isSoldOut(count),
    grossMinor: soldUnits(count) === 0 ? minorUnits(0) : (gross.get(count.productId) ?? null),
  }));
}

function byProduct(lines: readonly ReportLine[]): readonly ReportProduct[] {
  return [...groupBy(lines, ({ productId }) => productId).values()]
    .flatMap((mine) => {
      const [first] = mine;
      if (!first) return [];
      const { productId, product, look } = first;
      const soldOutMinutes = mine.filter(({ soldOut }) => soldOut).map(({ soldOutMinute }) => soldOutMinute);
      return [{ productId, product, look, markets: mine.length, soldOutMinutes, sums: sumsOf(mine) }];
    })
    .sort((one, other) => other.sums.soldUnits - one.sums.soldUnits || one.productId - other.productId);
}

function sumsOf(lines: readonly ReportLine[]): Sums {
  const sum = (part: (line: ReportLine) => number) => lines.reduce((whole, line) => whole + part(line), 0);
  return {
    takenUnits: sum((line) => line.takenUnits),
    soldUnits: sum((line) => line.soldUnits),
    homeUnits: sum((line) => line.homeUnits),
    givenAwayUnits: sum((line) => line.givenAwayUnits),
    grossMinor: sumOf(lines.flatMap(({ grossMinor }) => grossMinor ?? [])),
    unpriced: lines.filter(({ grossMinor }) => grossMinor === null).length,
  };
}
