import { z } from "zod";
import {
  choiceField,
  clockField,
  dateField,
  idField,
  oneOrMoreField,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";
import { lossCauses, mostUnitsOfLot } from "./lot.ts";
import { mostPlaceCharacters } from "./shelfPlace.ts";

const someUnits = wholeNumberField({ least: 1, most: mostUnitsOfLot });
const anyUnits = wholeNumberField({ least: 0, most: mostUnitsOfLot });
const noteField = textField({ most: 200, blank: true });

/** The loss and the count stand on one page, so their fields have names of their own. */
export const lossForm = z
  .object({
    lostUnits: someUnits,
    cause: choiceField(lossCauses, "Choose what became of them."),
    lossNote: noteField,
  })
  .transform(({ lostUnits, cause, lossNote }) => ({ units: lostUnits, cause, note: lossNote }));

export const countForm = z
  .object({ counted: anyUnits, expected: anyUnits, countNote: noteField })
  .transform(({ countNote, ...count }) => ({ ...count, note: countNote }));

const placeField = textField({ most: mostPlaceCharacters, blank: true }).transform((place) =>
  place.replaceAll(/\s+/g, " "),
);

export const placeForm = z.object({ shelfPlace: placeField });

/** Several lots at one place; at most 500 at once. */
export const placesForm = z.object({
  shelfPlace: placeField,
  lot: oneOrMoreField(idField("Choose lots from the list."), "Tick at least one lot.").refine(
    (lots) => lots.length <= 500,
    { error: "Tick at most 500 lots at once." },
  ),
});

export const readyStockForm = z.object({ productId: idField(), units: someUnits });

const dryingStock = {
  productId: idField(),
  units: someUnits,
  readyDate: dateField(),
  readyTime: clockField(),
};

/** Only what is still in its mold says when it may leave it. */
export const dryingStockForm = z.discriminatedUnion(
  "place",
  [
    z.object({
      ...dryingStock,
      place: z.literal("mold"),
      unmoldDate: dateField(),
      unmoldTime: clockField(),
    }),
    z.object({ ...dryingStock, place: z.literal("tray") }),
  ],
  { error: "Say where the pieces lie." },
);

export type DryingStock = z.output<typeof dryingStockForm>;
