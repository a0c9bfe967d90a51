import { createHash } from "node:crypto";
import type { Database } from "../../db/connect.ts";
import type { LookedOver, Warning } from "../../views/orders/lookedOver.ts";
import { dateField, fieldOf, idField } from "../http/formFields.ts";
import { moneyField, shareField } from "../http/moneyFields.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { nearestCases, readCasePacks } from "../prices/casePacks.ts";
import type { OrderMoney } from "../prices/priceOrder.ts";
import { type MoneyTerms, quote, readMoneyTerms } from "../prices/quote.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { type FormLine, readableLines, typedLines } from "./lineFields.ts";
import { readShipBy } from "./shipByFor.ts";

/** An order that is being changed: what it already holds is not warned of again, and its prices may be fixed. */
interface Standing {
  readonly confirmed: boolean;
  readonly customerId: number;
  /** The list its prices came from, and in what they were fixed; null: not yet. */
  readonly priceListId: number | null;
  readonly currency: string | null;
  readonly pricesIncludeTax: boolean | null;
  readonly rounding: "line" | "order" | null;
  readonly neededBy: string | null;
  readonly shipBy: string;
  readonly lines: readonly {
    readonly productId: number;
    readonly units: number;
    readonly unitPriceMinor: number | null;
    readonly discountBasisPoints: number;
  }[];
  readonly discountBasisPoints: number;
  readonly shippingMinor: number;
}

/**
 * Looks over a form as far as it is filled in, and changes nothing: what it comes to, and what a maker would want to
 * know before she sends it. Every warning can be overruled.
 */
export async function lookOver(
  db: Database,
  body: unknown,
  { today, standing = null }: { readonly today: string; readonly standing?: Standing | null },
): Promise<LookedOver> {
  const currency = await readCurrency(db);
  const lines = readableLines(typedLines(body), currency);
  const customerId = readable(idField(), fieldOf(body, "customer"));
  const neededBy = readable(dateField(), fieldOf(body, "needed_by"));
  const reckoned =
    customerId === null || neededBy === null ? null : await readShipBy(db, customerId, neededBy);
  const shipBy = readable(dateField(), fieldOf(body, "ship_by")) ?? reckoned;
  const terms =
    customerId === null ? undefined : await readMoneyTerms(db, customerId, { shipBy: shipBy ?? today });
  if (customerId === null || terms === undefined)
    return { money: null, reckoned: null, warnings: [], mark: "" };
  const asked = { customerId, today, shipBy: shipBy ?? today, body, currency };
  const money = lines.length === 0 ? null : await moneyOf(db, lines, standing, asked);
  const warnings = [
    ...casesMissed(lines, await readCasePacks(db, customerId), standing),
    ...(sameUnits(lines, standing) ? [] : belowLeast(lines, money, terms)),
    ...leavesLate(neededBy, shipBy, reckoned, standing),
  ];
  return {
    money: money && placed(money, lines),
    reckoned: shipBy === reckoned ? reckoned : null,
    warnings,
    mark: markOf(warnings),
  };
}

/** Whether the form says that these very warnings were seen and do not matter. */
export function isOverruled(body: unknown, { mark }: LookedOver): boolean {
  return mark === "" || fieldOf(body, "overruled") === mark;
}

interface Asked {
  readonly customerId: number;
  readonly today: string;
  readonly shipBy: string;
  readonly body: unknown;
  readonly currency: string;
}

/** As it would be confirmed today; of an order that is confirmed, fixed prices stay and nothing of its money is typed. */
async function moneyOf(
  db: Database,
  lines: readonly FormLine[],
  standing: Standing | null,
  { body, currency, ...asked }: Asked,
): Promise<OrderMoney | null> {
  const fixed = standing?.confirmed && standing.customerId === asked.customerId ? standing : null;
  const known = new Map(fixed?.lines.map((line) => [line.productId, line]));
  const discount = fixed?.discountBasisPoints ?? readable(shareField(), fieldOf(body, "discount"));
  const limits = { least: 0, most: 1_000_000_000 };
  const shipping = fixed?.shippingMinor ?? readable(moneyField(currency, limits), fieldOf(body, "shipping"));
  const quoted = await quote(db, {
    ...asked,
    priceListId: standing?.customerId === asked.customerId ? standing.priceListId : null,
    fixedMoney: fixedMoneyOf(fixed),
    ...(discount === null ? {} : { discountBasisPoints: discount }),
    ...(shipping === null ? {} : { shippingMinor: minorUnits(shipping) }),
    lines: lines.map((line) => {
      const { unitPriceMinor, discountBasisPoints } = fixed
        ? (known.get(line.productId) ?? NOTHING_FIXED)
        : line;
      const price = unitPriceMinor === null ? null : minorUnits(unitPriceMinor);
      return { productId: line.productId, units: line.units, unitPriceMinor: price, discountBasisPoints };
    }),
  });
  return quoted ?? null;
}

function fixedMoneyOf(fixed: Standing | null) {
  if (fixed === null) return null;
  const { currency, pricesIncludeTax, rounding } = fixed;
  return currency === null || pricesIncludeTax === null || rounding === null
    ? null
    : { currency, pricesIncludeTax, rounding };
}

const NOTHING_FIXED = { unitPriceMinor: null, discountBasisPoints: 0 };

function placed(money: OrderMoney, lines: readonly FormLine[]): LookedOver["money"] {
  const places = money.lines.map((line, index) => ({ ...line, place: lines[index]?.place ?? index }));
  return { ...money, lines: places };
}

function casesMissed(
  lines: readonly FormLine[],
  cases: ReadonlyMap<number, number>,
  standing: Standing | null,
): readonly Warning[] {
  return lines.flatMap(({ productId, units, place }): readonly Warning[] => {
    const caseUnits = cases.get(productId) ?? 1;
    const nearest = nearestCases(units, caseUnits);
    const stood = standing?.lines.some((line) => line.productId === productId && line.units === units);
    if (nearest === null || stood) return [];
    const { below, above } = nearest;
    const offers = below === null ? [above, above + caseUnits] : [below, above];
    return [{ kind: "cases", place, productId, units, caseUnits, offers }];
  });
}

function belowLeast(
  lines: readonly FormLine[],
  money: OrderMoney | null,
  { leastOrderUnits, leastOrderMinor }: MoneyTerms,
): readonly Warning[] {
  const units = lines.reduce((sum, line) => sum + line.units, 0);
  if (units === 0) return [];
  const fewer: readonly Warning[] =
    leastOrderUnits !== null && units < leastOrderUnits
      ? [{ kind: "least-units", units, least: leastOrderUnits }]
      : [];
  // While a price is missing nobody knows what it comes to.
  if (leastOrderMinor === null || money === null || money.unpriced > 0) return fewer;
  const amount = money.totals.goodsMinor;
  return amount < leastOrderMinor
    ? [...fewer, { kind: "least-value", amount, least: leastOrderMinor, currency: money.currency }]
    : fewer;
}

function leavesLate(
  neededBy: string | null,
  shipBy: string | null,
  reckoned: string | null,
  standing: Standing | null,
): readonly Warning[] {
  if (neededBy === null || shipBy === null || reckoned === null || shipBy <= reckoned) return [];
  if (standing?.neededBy === neededBy && standing.shipBy === shipBy) return [];
  return [{ kind: "leaves-late", neededBy, shipBy, reckoned }];
}

function sameUnits(lines: readonly FormLine[], standing: Standing | null): boolean {
  const inOrder = (rows: readonly { readonly productId: number; readonly units: number }[]) =>
    rows
      .map(({ productId, units }) => `${productId}:${units}`)
      .sort()
      .join();
  return standing !== null && inOrder(lines) === inOrder(standing.lines);
}

/** Other warnings have another mark: what was overruled is what was seen. */
function markOf(warnings: readonly Warning[]): string {
  if (warnings.length === 0) return "";
  return createHash("sha256").update(JSON.stringify(warnings)).digest("hex").slice(0, 16);
}

function readable<Value>(
  field: { safeParse(sent: unknown): { success: true; data: Value } | { success: false; data?: undefined } },
  sent: unknown,
): Value | null {
  const read = field.safeParse(sent);
  return read.success ? read.data : null;
}
