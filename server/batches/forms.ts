import { z } from "zod";
import {
  blankOr,
  choiceField,
  decimalField,
  repeatedField,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";

const MOST_BOWLS = 10_000;
const MOST_SPRAYS = 999;

/** One part of one bowl, weighed or not. */
export const tickForm = z.object({
  bowl: wholeNumberField({ least: 1, most: MOST_BOWLS }),
  place: wholeNumberField({ least: 0, most: 999 }),
  ticked: choiceField(["yes", "no"], "Say whether it is weighed."),
});

const sprayField = blankOr(wholeNumberField({ least: 0, most: MOST_SPRAYS }));

/** Sprays, one field a bowl in their order, blank: not tested; each with its own mistake. */
const spraysField = z.preprocess(
  (sent) => repeatedField().safeParse(sent).data ?? [],
  z.array(sprayField).max(MOST_BOWLS, { error: "There are no so many bowls." }),
) as z.ZodType<readonly (number | null)[]>;

export const recordForm = z
  .object({
    /** How often the record was written when the form was made. */
    version: wholeNumberField({ least: 0, most: 999_999_999 }),
    roomCelsius: blankOr(decimalField({ least: -20, most: 60, decimals: 1 })),
    humidityPercent: blankOr(wholeNumberField({ least: 0, most: 100 })),
    sprays: spraysField,
    note: textField({ most: 1000, blank: true }),
  })
  .transform(({ roomCelsius, ...record }) => ({
    ...record,
    roomDecidegrees: roomCelsius === null ? null : Math.round(roomCelsius * 10),
  }));

export type WrittenRecord = z.output<typeof recordForm>;
export type Tick = z.output<typeof tickForm>;
