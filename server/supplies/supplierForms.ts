import { z } from "zod";
import {
  blankOr,
  choiceField,
  idField,
  repeatedField,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";
import { supplyUnits } from "./amounts.ts";
import { inThousandths, MOST_PAID, quantityField } from "./ledgerForms.ts";

export const supplierForm = z
  .object({
    name: textField({ most: 120 }),
    deliveryDays: wholeNumberField({ least: 0, most: 365 }),
    weekdays: repeatedField().refine((sent) => sent.every((one) => /^[1-7]$/.test(one)), {
      error: "Tick days of the week.",
    }),
    contact: textField({ most: 500, blank: true }),
  })
  .transform(({ weekdays, ...rest }) => {
    const days = [...new Set(weekdays.map(Number))].toSorted((one, other) => one - other);
    // Every day is any day.
    return { ...rest, orderWeekdays: days.length === 7 ? [] : days };
  });

export type SupplierFacts = z.output<typeof supplierForm>;

/** A pack in which a supplier sells a supply. */
export function packForm(currency: string) {
  return z
    .object({
      supplier: idField("Choose the supplier."),
      content: quantityField,
      unit: choiceField(supplyUnits, "Choose a unit."),
      price: blankOr(moneyField(currency, { least: 0, most: MOST_PAID })),
      leastPacks: blankOr(wholeNumberField({ least: 1, most: 10_000 })),
      code: textField({ most: 80, blank: true }),
      usual: tickField(),
    })
    .transform(({ supplier, content, unit, price, leastPacks, ...rest }) => ({
      ...rest,
      supplierId: supplier,
      written: { thousandths: inThousandths(content), unit },
      priceMinor: price,
      leastPacks: leastPacks ?? 1,
    }));
}

export type PackFacts = z.output<ReturnType<typeof packForm>>;

/** The one pack that is to be bought unless somebody chooses otherwise. */
export const usualPackForm = z.object({ pack: idField("Reload the page.") });
