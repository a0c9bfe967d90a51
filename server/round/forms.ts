import { z } from "zod";
import {
  blankOr,
  clockField,
  dateField,
  decimalField,
  idField,
  repeatedField,
  rowsOf,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";

/** Deliveries handed over at one door at most. */
const MOST_AT_A_DOOR = 200;
const RELOAD = "Reload the page.";

export const drivingForm = z.object({
  kilometresAnHour: wholeNumberField({ least: 3, most: 130 }),
  roadPercent: wholeNumberField({ least: 100, most: 300 }),
  doorMinutes: wholeNumberField({ least: 0, most: 120 }),
  leavesMinute: clockField(),
});

export type DrivingFacts = z.output<typeof drivingForm>;

/** Where a place is, and how long it takes to others; the workshop is called 0. */
export const placeForm = z
  .preprocess(
    (body) =>
      typeof body === "object" && body !== null
        ? { ...body, drives: rowsOf(body, { to: "to", minutes: "minutes" }) }
        : body,
    z.object({
      latitude: blankOr(decimalField({ least: -90, most: 90, decimals: 6 })),
      longitude: blankOr(decimalField({ least: -180, most: 180, decimals: 6 })),
      drives: z.array(
        z.object({
          to: z.union([z.literal("0").transform(() => null), idField(RELOAD)], { error: RELOAD }),
          minutes: blankOr(wholeNumberField({ least: 0, most: 600 })),
        }),
      ),
    }),
  )
  .superRefine(({ latitude, longitude }, context) => {
    if ((latitude === null) === (longitude === null)) return;
    const path = [latitude === null ? "latitude" : "longitude"];
    context.addIssue({ code: "custom", path, message: "A place needs both numbers, or neither." });
  })
  .transform(({ latitude, longitude, drives }) => ({
    drives: drives.map(({ to, minutes }) => ({ toCustomerId: to, minutes })),
    latitudeMicro: micro(latitude),
    longitudeMicro: micro(longitude),
  }));

export type PlaceFacts = z.output<typeof placeForm>;

function micro(degrees: number | null): number | null {
  return degrees === null ? null : Math.round(degrees * 1_000_000);
}

const ids = repeatedField()
  .refine((sent) => sent.length > 0 && sent.length <= MOST_AT_A_DOOR, { error: RELOAD })
  .pipe(z.array(idField(RELOAD)) as unknown as z.ZodType<readonly number[], readonly string[]>);

/** What was handed over at a door: its deliveries, who took them, and the day whose round it is. */
export const handOverForm = z.object({
  on: dateField(),
  delivery: ids,
  receivedBy: textField({ most: 120 }),
});

/** What was ticked off by mistake. */
export const takeBackForm = z.object({ on: dateField(), delivery: ids });

/** Orders that leave the workshop together. */
export const departureForm = z.object({ on: dateField(), order: ids });
