import { StateMark } from "../components/StateMark.tsx";
import { dateOf, shortDayWords } from "../format/dates.ts";
import { lateWords } from "../packing/promiseWords.ts";

/** The day it left, and how that stands against the day it was promised for. */
export function LeftOn({
  shipBy,
  shippedAt,
  timeZone,
}: {
  readonly shipBy: string;
  readonly shippedAt: Date;
  readonly timeZone: string;
}) {
  const leftOn = dateOf(shippedAt, timeZone);
  const late = leftOn > shipBy;
  return (
    <>
      {shortDayWords(leftOn)} <StateMark words={late ? lateWords(shipBy, leftOn) : "on time"} urgent={late} />
    </>
  );
}
