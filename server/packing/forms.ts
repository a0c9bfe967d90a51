import { z } from "zod";
import {
  blankOr,
  fieldOf,
  idField,
  oneOrMoreField,
  repeatedField,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { scannedLot } from "../labels/scannedLot.ts";

const unitsField = wholeNumberField({ least: 1, most: 100_000 });

const lastMoveField = z.string({ error: "Reload the page and send it again." }).regex(/^\d{1,15}$/, {
  error: "Reload the page and send it again.",
});

/** Some pieces of one lot or of several; the lots and the numbers come in the same order. At most 100 lots at once. */
export const packForm = z
  .object({
    lot: oneOrMoreField(idField("Choose a lot."), "Choose a lot."),
    units: oneOrMoreField(unitsField, "Fill this in."),
    last_move: lastMoveField,
  })
  .refine(({ lot, units }) => lot.length === units.length && lot.length <= 100, {
    error: "Give one number for each lot, for at most 100 lots.",
    path: [""],
  })
  .transform(({ lot, units, last_move }) => ({
    takes: lot.map((lotId, place) => ({ lotId, units: units[place] ?? 0 })),
    lastMoveSeen: Number(last_move),
  }));

/** A lot in the packer's hand, and how many of it where not all that is needed. */
export const scanForm = z
  .object({
    scanned: textField({ most: 120 }).transform((typed, context) => {
      const lotCode = scannedLot(typed);
      if (lotCode !== null) return lotCode;
      context.addIssue({
        code: "custom",
        message: "That holds no lot code: a lot has 3 to 8 letters and digits.",
      });
      return z.NEVER;
    }),
    scanned_units: blankOr(unitsField),
    last_move: lastMoveField,
  })
  .transform(({ scanned, scanned_units, last_move }) => ({
    ...{ lotCode: scanned, units: scanned_units, lastMoveSeen: Number(last_move) },
  }));

export const noteForm = z.object({ note: textField({ most: 300 }) });

export const unpackForm = z.object({ units: unitsField });

export const completionForm = z.object({ leaves_short: tickField() });

/**
 * Which orders an address asks for; null where it leaves the choice to us. What is no order's number asks for nothing:
 * an address can be old or mistyped, and the page shows what it has understood.
 */
export function readChosenOrders(query: unknown): readonly number[] | null {
  const sent = repeatedField().safeParse(fieldOf(query, "order"));
  const numbers = sent.success ? sent.data : [];
  if (numbers.length === 0 && fieldOf(query, "chosen") === undefined) return null;
  return numbers.flatMap((typed) => {
    const read = idField().safeParse(typed);
    return read.success ? [read.data] : [];
  });
}
