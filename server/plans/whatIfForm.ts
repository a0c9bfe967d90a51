import { z } from "zod";
import { blankOr, dateField, decimalField, textField, wholeNumberField } from "../http/formFields.ts";
import type { Mistake } from "../http/takeForm.ts";
import { caseLimits } from "../planning/case.ts";
import type { Misfit, WhatIf } from "./whatIf.ts";

const LEAST_HANDS = -600;
const MOST_HANDS = 600;

const code = textField({ most: caseLimits.idLength });

const fields = z.object({
  shape: blankOr(code),
  sets: blankOr(wholeNumberField({ least: 0, most: 100_000 })),
  trays: blankOr(wholeNumberField({ least: 0, most: 10_000 })),
  mixers: blankOr(wholeNumberField({ least: 0, most: 100 })),
  hands: blankOr(wholeNumberField({ least: LEAST_HANDS, most: MOST_HANDS })),
  damp: blankOr(dateField()),
  factor: blankOr(decimalField({ least: 0.25, most: 10, decimals: 2 })),
  without: blankOr(code),
  product: blankOr(code),
  units: blankOr(wholeNumberField({ least: 1, most: 10_000 })),
  by: blankOr(dateField()),
});

/** Fields that only say something together. */
const TOGETHER = [
  { named: ["shape", "sets"], sentence: "Give the shape and its sets together." },
  { named: ["damp", "factor"], sentence: "Give the damp day and its factor together." },
  { named: ["product", "units", "by"], sentence: "Give product, pieces and date together." },
] as const;

/** The question a what-if asks: in a form, in a link, every field blank where it is as today. */
export const whatIfForm = fields
  .superRefine((typed, context) => {
    for (const { named, sentence } of TOGETHER) {
      const blank = named.filter((name) => typed[name] === null);
      if (blank.length === named.length) continue;
      for (const name of blank) context.addIssue({ code: "custom", path: [name], message: sentence });
    }
    if (Object.values(typed).every((value) => value === null))
      context.addIssue({ code: "custom", path: [], message: "Say what should be different." });
  })
  .transform(
    ({ shape, sets, trays, mixers, hands, damp, factor, without, product, units, by }): WhatIf => ({
      molds: shape === null || sets === null ? null : { shape, sets },
      trays,
      mixers,
      handMinutes: hands,
      damp: damp === null || factor === null ? null : { date: damp, factor },
      without,
      added: product === null || units === null || by === null ? null : { product, units, shipBy: by },
    }),
  );

export function misfitSentence({ field, problem }: Misfit): Mistake {
  if (typeof problem === "object")
    return { field, sentence: `This is more than can be planned at once: ${problem.tooLarge}.` };
  switch (problem) {
    case "unknown":
      return { field, sentence: "That is not part of today's question. Choose one from the list." };
    case "no-session":
      return { field, sentence: "No session that is still to come is on that day." };
    case "no-order-left":
      return { field, sentence: "Without it there is nothing to plan." };
  }
}
