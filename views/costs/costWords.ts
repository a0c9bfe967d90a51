import type { CostsOnADay, ProductCost } from "../../server/costs/queries.ts";
import { moneyWords, shareWords } from "../format/money.ts";
import { counted } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";

/** "+€1.20" as money that is left; "−€0.40" as money that is lost. */
export function marginWords(marginMinor: number, currency: string): string {
  const size = moneyWords(Math.abs(marginMinor), currency);
  return marginMinor < 0 ? `\u2212${size}` : size;
}

/** "42 %", "−8 %". */
export function marginShareWords(basisPoints: number | null): string {
  if (basisPoints === null) return "";
  return basisPoints < 0 ? `\u2212${shareWords(-basisPoints)}` : shareWords(basisPoints);
}

/** What is not in a cost yet; blank: everything is. */
export function unpricedWords({ cost, hasRecipe }: ProductCost): string {
  const missing = [
    hasRecipe ? "" : "its recipe, which nobody has written",
    cost.unpriced.length === 0 ? "" : `${listed(cost.unpriced)}, whose price nobody knows`,
  ].filter((part) => part !== "");
  return missing.length === 0 ? "" : `At least: without ${missing.join(", and ")}.`;
}

/** "17 products cost from €0.62 to €1.41 to make; every price leaves something." */
export function costsSentence({ products, settings }: CostsOnADay): string {
  if (products.length === 0) return "There is no product yet whose cost could be told.";
  const totals = products.map(({ cost }) => cost.totalMinor);
  const [least, most] = [Math.min(...totals), Math.max(...totals)];
  const losing = products.filter(({ margins }) => margins.some((margin) => margin && margin.marginMinor < 0));
  const range =
    least === most
      ? `cost ${moneyWords(least, settings.currency)}`
      : `cost from ${moneyWords(least, settings.currency)} to ${moneyWords(most, settings.currency)}`;
  const end =
    losing.length === 0
      ? "no price is below it"
      : `${listed(losing.slice(0, 3).map(({ name }) => name))} ${losing.length === 1 ? "is" : "are"} sold below it`;
  return `${counted(products.length, "product")} ${range} to make; ${end}.`;
}
