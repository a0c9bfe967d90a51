import type { DayRound, RoundStop } from "../../server/round/roundQueries.ts";
import { minuteOfDayWords } from "../format/dates.ts";
import { counted, minutesWords, pieces } from "../format/quantities.ts";

interface Where {
  readonly latitudeMicro: number | null;
  readonly longitudeMicro: number | null;
}

/** "51.5, -0.12", or that nobody said where it is. */
export function pointWords({ latitudeMicro, longitudeMicro }: Where): string {
  if (latitudeMicro === null || longitudeMicro === null) return "no coordinates yet";
  return `${latitudeMicro / 1_000_000}, ${longitudeMicro / 1_000_000}`;
}

/** "W-104: 12 pieces in 2 parcels": what is handed over of one order. */
export function thingWords({ reference, units, parcels }: RoundStop["things"][number]): string {
  const boxes = parcels > 0 ? ` in ${counted(parcels, "parcel")}` : "";
  return `${reference}: ${pieces(units)}${boxes}`;
}

/** "09:12", past midnight too; nothing where the stop could not be placed. */
export function arrivalWords(minute: number | null): string {
  return minute === null ? "" : minuteOfDayWords(minute % (24 * 60));
}

/** How the order of the stops was found, and what it rests on. */
export function orderWords({ exact, drivingMinutes, driving, unplaced, stops }: DayRound): readonly string[] {
  if (stops.length === 0) return [];
  const found = exact
    ? "The shortest order of all:"
    : "A good order, found by approximation (another may be a little shorter):";
  const missing = `${counted(unplaced, "stop")} without coordinates or minutes ${unplaced === 1 ? "stands" : "stand"} last, without a time.`;
  return [
    ...(unplaced < stops.length
      ? [
          `${found} ${minutesWords(drivingMinutes)} of driving, ${minutesWords(driving.doorMinutes)} at each door.`,
        ]
      : []),
    ...(unplaced > 0 ? [missing] : []),
  ];
}
