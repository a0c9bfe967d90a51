import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { minuteOfDayWords } from "../../views/format/dates.ts";
import { plainMoney } from "../../views/format/money.ts";
import { readHabitRule } from "./habitRule.ts";
import type { Stall } from "./queries.ts";

interface UsualFacts {
  readonly kind: string;
  readonly place: string;
  readonly opensMinute: number;
  readonly closesMinute: number;
  readonly feeMinor: number;
  readonly loadingMinutes: number;
}

/** How a market is, as its form has it. */
export function typedUsual(facts: UsualFacts, currency: string) {
  return {
    kind: facts.kind,
    place: facts.place,
    opens: minuteOfDayWords(facts.opensMinute),
    closes: minuteOfDayWords(facts.closesMinute),
    fee: plainMoney(facts.feeMinor, currency),
    loading: String(facts.loadingMinutes),
  };
}

/** What a stall is like before anybody said so. Common practice, no source. */
const USUALLY = { kind: "", opensMinute: 540, closesMinute: 840, feeMinor: 0, loadingMinutes: 60 };

/** A new market as the habits of its stall have it; stall and date may be said by the link that leads here. */
export function typedMarket(asked: FormAnswer["typed"], stalls: readonly Stall[], currency: string) {
  const stall =
    stalls.find(({ customerId }) => String(customerId) === asked.customer) ??
    (stalls.length === 1 ? stalls[0] : undefined);
  const habit = stall?.habit ?? { ...USUALLY, place: stall?.address ?? "" };
  const date = asked.date;
  return {
    ...typedUsual(habit, currency),
    customer: stall ? String(stall.customerId) : "",
    held_on: typeof date === "string" && /^\d{4}-\d\d-\d\d$/.test(date) ? date : "",
    note: "",
  };
}

/** The habit of a stall, as its form has it. */
export function typedHabit({ habit, address }: Stall, currency: string) {
  const usual = typedUsual(habit ?? { ...USUALLY, place: address }, currency);
  if (!habit?.rule) return { ...usual, repeats: "never", weeks_apart: "1", starts_on: "", ends_on: "" };
  const rule = readHabitRule(habit.rule);
  return {
    ...usual,
    repeats: rule.repeats,
    weeks_apart: rule.repeats === "weekly" ? String(rule.weeksApart) : "1",
    starts_on: habit.startsOn ?? "",
    ends_on: habit.endsOn ?? "",
  };
}
