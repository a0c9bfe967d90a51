import { StateMark } from "../components/StateMark.tsx";
import { dateOf, shortDayWords } from "../format/dates.ts";
import { lateWords } from "../packing/promiseWords.ts";

/** What was promised and what was done, side by side. */
export function PromiseKept({
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
      promised for {shortDayWords(shipBy)}, left {shortDayWords(leftOn)}{" "}
      <StateMark words={late ? lateWords(shipBy, leftOn) : "on time"} urgent={late} />
    </>
  );
}
