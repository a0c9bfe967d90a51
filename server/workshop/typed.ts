import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { minuteOfDayWords } from "../../views/format/dates.ts";
import type { SessionTimes, ShapeNumbers, WorkshopNumbers } from "./forms.ts";

/*
 * What the tables hold, as the maker would have typed it: the way back through the forms. Hours are rounded to
 * hundredths, which is less than half a minute, so that sending them again gives the same minutes.
 */

type Typed = FormAnswer["typed"];

/** Common practice among makers, no published source: a stand mixer, a rack of trays, one person. */
export const usualWorkshop: Omit<WorkshopNumbers, "name" | "timeZone"> = {
  trays: 8,
  mixers: 1,
  bowlMilligrams: 2_600_000,
  minBowlMilligrams: 900_000,
  bowlMinutes: 30,
  mixMinutes: 20,
  cleanMinutes: 12,
  firstTurnMinutes: 270,
  everyTurnMinutes: 180,
  horizonDays: 14,
};

/** Common practice, no published source: a ball of 60 mm that dries overnight in one half and rests a day. */
export const usualShape: Omit<ShapeNumbers, "name"> = {
  moldSets: 24,
  driesIn: "half",
  moldMinutes: 16 * 60,
  restMinutes: 8 * 60,
  unitsPerTray: 20,
  pieceMilligrams: 118_000,
  formSeconds: 48,
  turnSeconds: 4,
  unmoldSeconds: 15,
  packSeconds: 66,
};

/** One person for a morning. */
export const usualSession: SessionTimes = {
  startsMinute: 9 * 60,
  endsMinute: 13 * 60,
  handMinutes: 240,
  mixing: true,
};

export function typedWorkshop(numbers: WorkshopNumbers): Typed {
  return {
    name: numbers.name,
    timeZone: numbers.timeZone,
    trays: String(numbers.trays),
    mixers: String(numbers.mixers),
    bowlGrams: grams(numbers.bowlMilligrams),
    minBowlGrams: grams(numbers.minBowlMilligrams),
    bowlMinutes: String(numbers.bowlMinutes),
    mixMinutes: String(numbers.mixMinutes),
    cleanMinutes: String(numbers.cleanMinutes),
    firstTurnHours: hours(numbers.firstTurnMinutes),
    everyTurnHours: hours(numbers.everyTurnMinutes),
    horizonDays: String(numbers.horizonDays),
  };
}

export function typedShape(numbers: ShapeNumbers): Typed {
  return {
    name: numbers.name,
    moldSets: String(numbers.moldSets),
    driesIn: numbers.driesIn,
    moldHours: hours(numbers.moldMinutes),
    restHours: hours(numbers.restMinutes),
    unitsPerTray: String(numbers.unitsPerTray),
    pieceGrams: grams(numbers.pieceMilligrams),
    formSeconds: String(numbers.formSeconds),
    turnSeconds: String(numbers.turnSeconds),
    unmoldSeconds: String(numbers.unmoldSeconds),
    packSeconds: String(numbers.packSeconds),
  };
}

export function typedSession(times: SessionTimes): Typed {
  return {
    starts: minuteOfDayWords(times.startsMinute),
    ends: minuteOfDayWords(times.endsMinute),
    handMinutes: String(times.handMinutes),
    mixing: times.mixing ? "yes" : "",
  };
}

function grams(milligrams: number): string {
  return String(milligrams / 1000);
}

function hours(minutes: number): string {
  return String(Math.round((minutes / 60) * 100) / 100);
}
