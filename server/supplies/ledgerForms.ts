import { z } from "zod";
import {
  blankOr,
  choiceField,
  dateField,
  decimalField,
  idField,
  rowsOf,
  textField,
} from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";
import { type SupplyUnit, supplyUnits } from "./amounts.ts";
import { supplyLossCauses } from "./loseSupply.ts";
import type { Receipt, ReceivedQuantity } from "./receiveSupply.ts";

/** Largest quantity of a unit or pack. */
export const MOST_QUANTITY = 1_000_000;
/** Dearest delivery, in minor units. */
export const MOST_PAID = 1_000_000_000;

export const quantityField = decimalField({ least: 0.001, most: MOST_QUANTITY, decimals: 3 });
export const inThousandths = (quantity: number) => Math.round(quantity * 1000);

/** A quantity that may be nothing, as a count may find. */
const countedField = decimalField({ least: 0, most: MOST_QUANTITY, decimals: 3 });

/** A unit, or a supplier's pack as "pack-12". */
const unitOrPack = z
  .string({ error: "Choose a unit." })
  .refine((sent) => isUnit(sent) || /^pack-[1-9]\d{0,8}$/.test(sent), { error: "Choose a unit." });

function isUnit(sent: string): sent is SupplyUnit {
  return supplyUnits.some((unit) => unit === sent);
}

/** What came, from whom, and what it cost. Helpers are asked for no price. */
export function receiptForm(currency: string) {
  return z
    .object({
      quantity: quantityField,
      unit: unitOrPack,
      supplier: blankOr(idField()),
      supplierLot: textField({ most: 80, blank: true }),
      price: blankOr(moneyField(currency, { least: 0, most: MOST_PAID })),
      receivedOn: dateField(),
      expiresOn: blankOr(dateField()),
      purchase: blankOr(idField()),
    })
    .transform((form, context): Omit<Receipt, "supplyId"> => {
      const { quantity, unit, supplier, price, purchase, ...rest } = form;
      if (!isUnit(unit) && !Number.isInteger(quantity))
        context.addIssue({ code: "custom", path: ["quantity"], message: "Give a whole number of packs." });
      return {
        ...rest,
        quantity: quantityOf(quantity, unit),
        supplierId: supplier,
        priceMinor: price,
        purchaseId: purchase,
      };
    });
}

/** What a received lot's last good day and price should have been, with what the page showed of them. */
export function correctionForm(currency: string) {
  const price = () => blankOr(moneyField(currency, { least: 0, most: MOST_PAID }));
  return z
    .object({
      expiresOn: blankOr(dateField()),
      price: price(),
      why: textField({ most: 200 }),
      seenExpiresOn: blankOr(dateField()),
      seenPrice: price(),
      currency: textField({ most: 3 }),
    })
    .transform(({ price: priceMinor, seenExpiresOn, seenPrice, ...rest }) => ({
      ...rest,
      priceMinor,
      seen: { expiresOn: seenExpiresOn, priceMinor: seenPrice },
    }));
}

function quantityOf(quantity: number, unit: string): ReceivedQuantity {
  if (isUnit(unit)) return { thousandths: inThousandths(quantity), unit };
  return { packId: Number(unit.slice("pack-".length)), packs: Math.round(quantity) };
}

const countedRow = z.object({ lot: idField("Reload the page."), amount: blankOr(countedField) });

/**
 * What is there of each lot, in grams or pieces, as lists side by side. The mistake of row 2 stands at "counts.2". A
 * blank is nothing only where the ledger has nothing either, which the command knows.
 */
export const supplyCountForm = z.preprocess(
  (body) =>
    typeof body === "object" && body !== null
      ? { ...body, counts: rowsOf(body, { lot: "countedLot", amount: "countedAmount" }) }
      : body,
  z.object({
    lastMove: z
      .string({ error: "Reload the page." })
      .regex(/^\d{1,15}$/, { error: "Reload the page." })
      .transform(Number),
    countNote: textField({ most: 200, blank: true }),
    counts: z
      .array(z.object({ lot: z.string(), amount: z.string() }))
      .transform((rows, context) =>
        rows.flatMap((row, place) => {
          const read = countedRow.safeParse(row);
          if (!read.success) {
            const message = read.error.issues[0]?.message ?? "Look at this again.";
            context.addIssue({ code: "custom", path: [place], message });
            return [];
          }
          const { lot, amount } = read.data;
          return amount === null ? [] : [{ lotId: lot, thousandths: inThousandths(amount) }];
        }),
      )
      .refine((counts) => new Set(counts.map(({ lotId }) => lotId)).size === counts.length, {
        error: "Each lot is counted once: reload the page.",
      }),
  }),
);

export const supplyLossForm = z.object({
  lostLot: idField("Choose the lot."),
  lostAmount: quantityField,
  cause: choiceField(supplyLossCauses, "Choose what became of it."),
  lossNote: textField({ most: 200, blank: true }),
});

export const lotChoiceForm = z
  .object({ supply: idField("Reload the page."), lot: idField("Choose the lot.") })
  .transform(({ supply, lot }) => ({ supplyId: supply, lotId: lot }));
