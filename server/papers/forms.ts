import { z } from "zod";
import { choiceField, dateField, repeatedField, textField, tickField } from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";

/** Characters of each part of the shop's heading at most: what fits on a sheet. */
const MOST_LETTERS = 400;

export const letterheadForm = z.object({
  name: textField({ most: 120, blank: true }),
  address: textField({ most: MOST_LETTERS, blank: true }),
  taxNumber: textField({ most: 120, blank: true }),
  bank: textField({ most: MOST_LETTERS, blank: true }),
  paymentWords: textField({ most: MOST_LETTERS, blank: true }),
  footer: textField({ most: MOST_LETTERS, blank: true }),
  paperSize: choiceField(["A4", "Letter"], "Choose a paper."),
});
export type LetterheadForm = z.output<typeof letterheadForm>;

export const invoiceForm = z.object({
  basis: choiceField(["left", "whole"], "Choose what to bill."),
});

/** Credited at most of one line, in pieces. */
const MOST_UNITS = 100_000;

const creditedUnits = z
  .string()
  .trim()
  .refine((typed) => /^\d{0,6}$/.test(typed) && Number(typed) <= MOST_UNITS, {
    error: "Give a whole number of pieces, or nothing.",
  })
  .transform(Number);

/** Lines of an invoice at most: those of an order, and its shipping. */
const MOST_LINES = 501;

/**
 * Lines are sent as two lists side by side: the line, and how many of its pieces, blank for none; the shipping has "1".
 */
export const creditForm = z
  .object({
    reason: textField({ most: 200 }),
    billAgain: choiceField(["yes", "no"], "Say whether they are to be billed anew.").transform(
      (answer) => answer === "yes",
    ),
    line: repeatedField().pipe(
      z.array(
        z
          .string()
          .regex(/^[1-9]\d{0,8}$/, "Reload the page.")
          .transform(Number),
      ),
    ),
    units: repeatedField().pipe(z.array(creditedUnits)),
  })
  .refine(({ line, units }) => line.length === units.length && line.length <= MOST_LINES, {
    error: "Reload the page.",
  })
  .transform(({ line, units, ...rest }) => ({
    ...rest,
    takes: line.flatMap((lineId, place) => {
      const asked = units[place] ?? 0;
      return asked === 0 ? [] : [{ lineId, units: asked, place }];
    }),
  }));
export type CreditForm = z.output<typeof creditForm>;

/** Most that one entry can be, in minor units. */
const MOST_ENTRY = 1_000_000_000_000;

/** An entry to an invoice; amounts are typed in the invoice's currency. */
export function paymentForm(currency: string) {
  return z.object({
    kind: choiceField(["received", "early-discount", "let-off", "paid-back"], "Choose what it was."),
    amount: moneyField(currency, { least: 1, most: MOST_ENTRY }),
    paidOn: dateField(),
    words: textField({ most: 200, blank: true }),
    beyond: tickField(),
  });
}
export type PaymentForm = z.output<ReturnType<typeof paymentForm>>;

export const shownInvoices = ["open", "overdue", "all"] as const;

/** Most characters of a customer's name that are searched for. */
const MOST_SEARCH = 120;

/** Reads which invoices a link asks for; what it does not understand is left out. */
const invoicesQuery = z.object({
  show: z.enum(shownInvoices).catch("open"),
  q: z
    .string()
    .transform((typed) => typed.replaceAll("\u0000", "").trim().slice(0, MOST_SEARCH))
    .catch(""),
  page: z
    .string()
    .regex(/^[1-9]\d{0,5}$/)
    .transform(Number)
    .catch(1),
});
export type InvoicesAsked = z.output<typeof invoicesQuery>;

export function readInvoicesAsked(query: unknown): InvoicesAsked {
  return invoicesQuery.parse(query ?? {});
}
