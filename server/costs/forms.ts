import { z } from "zod";
import { blankOr, choiceField } from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";

/** Dearest hour of hands, in minor units. */
const MOST_HOUR = 10_000_000;

export function costingForm(currency: string) {
  return z
    .object({
      supplyCost: choiceField(["last-paid", "average"], "Choose by which price supplies count."),
      hour: blankOr(moneyField(currency, { least: 0, most: MOST_HOUR })),
    })
    .transform(({ supplyCost, hour }) => ({ supplyCost, hourMinor: hour }));
}
