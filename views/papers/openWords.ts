import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";

/** ", €12.50 open, due Fri 2 Apr", ", settled" or what is in the customer's favour; nothing for a credit note. */
export function openWords(invoice: {
  readonly openMinor: number | null;
  readonly dueOn: string | null;
  readonly currency: string;
}): string {
  const { openMinor, dueOn, currency } = invoice;
  if (openMinor === null || dueOn === null) return "";
  if (openMinor === 0) return ", settled";
  return openMinor > 0
    ? `, ${moneyWords(openMinor, currency)} open, due ${shortDayWords(dueOn)}`
    : `, ${moneyWords(-openMinor, currency)} in the customer's favour`;
}
