import { z } from "zod";
import { isShortCode, SHORT_CODE_LENGTH, shortCodeFrom } from "../basics/shortCode.ts";
import {
  blankOr,
  choiceField,
  clockField,
  dateField,
  decimalField,
  repeatedField,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { isTimeZone } from "./timeZones.ts";

/*
 * The maker writes grams, hours and seconds; what comes out of these forms is in the units of the tables, and is
 * what the commands take.
 */

/** Heaviest bowl, in grams: a floor-standing mixer with room to spare. */
const HEAVIEST_BOWL_GRAMS = 200_000;
/** Heaviest piece, in grams. */
const HEAVIEST_PIECE_GRAMS = 10_000;
/** Longest drying and longest rest, in hours: 30 days. */
const LONGEST_DRYING_HOURS = 720;
/** A session lies between these minutes of the day: 01:00 and 23:00. */
const EARLIEST_MINUTE = 60;
const LATEST_MINUTE = 1380;
/** Most days that one entry may close or call damp at once. */
const LONGEST_SPELL_DAYS = 92;

const milligrams = (limits: { readonly least: number; readonly most: number }) =>
  decimalField({ ...limits, decimals: 3 }).transform((grams) => Math.round(grams * 1000));

const minutesFromHours = decimalField({ least: 0, most: LONGEST_DRYING_HOURS, decimals: 2 }).transform(
  (hours) => Math.round(hours * 60),
);

/** How often pieces are turned, in hours: from a quarter to a whole day. */
const turningHours = decimalField({ least: 0.25, most: 24, decimals: 2 }).transform((hours) =>
  Math.round(hours * 60),
);

const seconds = decimalField({ least: 0, most: 3600, decimals: 2 });

export const workshopForm = z
  .object({
    name: textField({ most: 80 }),
    timeZone: textField({ most: 60 }).refine(isTimeZone, { error: "Choose a time zone from the list." }),
    trays: wholeNumberField({ least: 0, most: 10_000 }),
    mixers: wholeNumberField({ least: 0, most: 100 }),
    bowlGrams: milligrams({ least: 1, most: HEAVIEST_BOWL_GRAMS }),
    minBowlGrams: milligrams({ least: 0, most: HEAVIEST_BOWL_GRAMS }),
    bowlMinutes: wholeNumberField({ least: 1, most: 1440 }),
    mixMinutes: decimalField({ least: 0, most: 1440, decimals: 2 }),
    cleanMinutes: decimalField({ least: 0, most: 1440, decimals: 2 }),
    firstTurnHours: turningHours,
    everyTurnHours: turningHours,
    horizonDays: wholeNumberField({ least: 3, most: 120 }),
  })
  .refine(({ minBowlGrams, bowlGrams }) => minBowlGrams <= bowlGrams, {
    path: ["minBowlGrams"],
    error: "The least bowl cannot weigh more than the fullest one.",
  })
  .transform(({ bowlGrams, minBowlGrams, firstTurnHours, everyTurnHours, ...numbers }) => ({
    ...numbers,
    bowlMilligrams: bowlGrams,
    minBowlMilligrams: minBowlGrams,
    firstTurnMinutes: firstTurnHours,
    everyTurnMinutes: everyTurnHours,
  }));

export type WorkshopNumbers = z.output<typeof workshopForm>;

const shapeFields = z.object({
  name: textField({ most: 80 }),
  moldSets: wholeNumberField({ least: 0, most: 100_000 }),
  driesIn: choiceField(["half", "whole", "none"], "Choose how it dries."),
  moldHours: minutesFromHours,
  restHours: minutesFromHours,
  unitsPerTray: wholeNumberField({ least: 1, most: 10_000 }),
  pieceGrams: milligrams({ least: 0.001, most: HEAVIEST_PIECE_GRAMS }),
  formSeconds: seconds,
  turnSeconds: seconds,
  unmoldSeconds: seconds,
  packSeconds: seconds,
});

function asStored({ moldHours, restHours, pieceGrams, ...numbers }: z.output<typeof shapeFields>) {
  return { ...numbers, moldMinutes: moldHours, restMinutes: restHours, pieceMilligrams: pieceGrams };
}

/** A short code, or blank for the one the name suggests. */
export const codeField = textField({ most: SHORT_CODE_LENGTH, blank: true }).refine(
  (typed) => typed === "" || isShortCode(typed),
  { error: "Use lower-case letters a to z, digits, and single hyphens between them, such as ball-60." },
);

/** Gives the fields of a new thing their code; where the name suggests none, asks for one beside the field. */
export function withCode<Fields extends { readonly name: string; readonly code: string }>(
  fields: Fields,
  context: z.core.$RefinementCtx,
): Fields {
  const code = fields.code || shortCodeFrom(fields.name);
  if (code === "") {
    context.issues.push({
      code: "custom",
      input: fields.code,
      path: ["code"],
      message: "The name suggests no code: give one of letters a to z, digits and hyphens.",
    });
  }
  return { ...fields, code };
}

export const shapeForm = shapeFields.transform(asStored);

export const newShapeForm = shapeFields
  .extend({ code: codeField })
  .transform(withCode)
  .transform(({ code, ...fields }) => ({ code, ...asStored(fields) }));

export type ShapeNumbers = z.output<typeof shapeForm>;
export type NewShape = z.output<typeof newShapeForm>;

const sessionFields = z.object({
  starts: clockField().refine((minute) => minute >= EARLIEST_MINUTE, {
    error: "A session starts at 01:00 or later.",
  }),
  ends: clockField().refine((minute) => minute <= LATEST_MINUTE, {
    error: "A session ends at 23:00 or earlier.",
  }),
  handMinutes: wholeNumberField({ least: 0, most: 100_000 }),
  mixing: tickField(),
});

type SessionFields = z.output<typeof sessionFields>;

const startsBeforeItEnds = ({ starts, ends }: SessionFields) => starts < ends;
const endsTooEarly = { path: ["ends"], error: "The session has to end after it starts." };

function sessionAsStored<Fields extends SessionFields>({ starts, ends, ...rest }: Fields) {
  return { ...rest, startsMinute: starts, endsMinute: ends };
}

export const weekSessionForm = sessionFields
  .refine(startsBeforeItEnds, endsTooEarly)
  .transform(sessionAsStored);

const weekdays = repeatedField()
  .refine((sent) => sent.length > 0, { error: "Tick at least one day." })
  .refine((sent) => sent.every((day) => /^[1-7]$/.test(day)), { error: "Tick days of the week only." })
  .transform((sent) => [...new Set(sent)].map(Number).sort((one, other) => one - other));

export const newWeekSessionsForm = sessionFields
  .extend({ weekdays })
  .refine(startsBeforeItEnds, endsTooEarly)
  .transform(sessionAsStored);

/** One stretch of working time of a day: minutes from local midnight, hand minutes, whether bowls are mixed. */
export type SessionTimes = z.output<typeof weekSessionForm>;
export type NewWeekSession = SessionTimes & { readonly weekday: number };
export type NewWeekSessions = z.output<typeof newWeekSessionsForm>;

const note = textField({ most: 200, blank: true });

const spellFields = z.object({
  onDate: dateField(),
  /** Blank for a single day. */
  lastDate: blankOr(dateField()),
  note,
});

const spellEndsAfterItStarts = (spell: { readonly onDate: string; readonly lastDate: string | null }) =>
  spell.lastDate === null || spell.onDate <= spell.lastDate;
const spellTooEarly = { path: ["lastDate"], error: "The last day cannot come before the first." };
const spellIsShortEnough = (spell: { readonly onDate: string; readonly lastDate: string | null }) =>
  spell.lastDate === null ||
  Date.parse(spell.lastDate) - Date.parse(spell.onDate) < LONGEST_SPELL_DAYS * 86_400_000;
const spellTooLong = { path: ["lastDate"], error: `At most ${LONGEST_SPELL_DAYS} days at once.` };

export const dayOffForm = spellFields
  .refine(spellEndsAfterItStarts, spellTooEarly)
  .refine(spellIsShortEnough, spellTooLong);

export const dampForm = spellFields
  .extend({ dryingFactor: decimalField({ least: 0.25, most: 10, decimals: 2 }) })
  .refine(spellEndsAfterItStarts, spellTooEarly)
  .refine(spellIsShortEnough, spellTooLong);

export const extraSessionForm = sessionFields
  .extend({ onDate: dateField(), note })
  .refine(startsBeforeItEnds, endsTooEarly)
  .transform(sessionAsStored);

/** What one date does differently. */
export type NewException =
  | { readonly kind: "day-off"; readonly onDate: string; readonly note: string }
  | { readonly kind: "damp"; readonly onDate: string; readonly note: string; readonly dryingFactor: number }
  | ({ readonly kind: "extra"; readonly onDate: string; readonly note: string } & SessionTimes);
