import { z } from "zod";
import { idField, tickField, wholeNumberField } from "../http/formFields.ts";

const unitsField = wholeNumberField({ least: 1, most: 100_000 });

/** Some pieces of one lot or of several; the lots and the numbers come in the same order. At most 100 lots at once. */
export const packForm = z
  .object({
    lot: oneOrMore(idField("Choose a lot."), "Choose a lot."),
    units: oneOrMore(unitsField, "Fill this in."),
    last_move: z.string({ error: "Reload the page and send it again." }).regex(/^\d{1,15}$/, {
      error: "Reload the page and send it again.",
    }),
  })
  .refine(({ lot, units }) => lot.length === units.length && lot.length <= 100, {
    error: "Give one number for each lot, for at most 100 lots.",
    path: [""],
  })
  .transform(({ lot, units, last_move }) => ({
    takes: lot.map((lotId, place) => ({ lotId, units: units[place] ?? 0 })),
    lastMoveSeen: Number(last_move),
  }));

export const unpackForm = z.object({ units: unitsField });

export const completionForm = z.object({ leaves_short: tickField() });

/** A field that is sent once for each of several things. */
function oneOrMore<Value>(field: z.ZodType<Value>, whenNone: string) {
  return z.preprocess(
    (sent) => (sent === undefined ? [] : Array.isArray(sent) ? sent : [sent]),
    z.array(field).min(1, { error: whenNone }),
  );
}
