import type { BenchDay } from "../../server/bench/benchDay.ts";
import type { LyingLot, OpenRun } from "../../server/bench/queries.ts";
import { clockWords, dayWords, momentWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";

/** What to do now, in one sentence: first at the bowl, then at the trays. */
export function benchSentence(day: BenchDay<OpenRun, LyingLot>, timeZone: string): string {
  const [bowl, trays] = [bowlWords(day, timeZone), trayWords(day, timeZone)];
  if (bowl === null) return trays === null ? "Nothing waits at the bench." : sentence(trays);
  return trays === null ? `${bowl}.` : `${bowl}; ${trays}.`;
}

function bowlWords(
  { pressing, toMix, toMixLater }: BenchDay<OpenRun, LyingLot>,
  timeZone: string,
): string | null {
  const [inBowl] = pressing;
  if (inBowl) return `Press ${inBowl.look.name} now: ${pieces(unitsToPress(inBowl))}${others(pressing)}`;
  const [now] = toMix;
  if (now) {
    const work = `${counted(now.bowls, "bowl")}, ${pieces(unitsToPress(now))}`;
    return `Mix ${now.look.name} now: ${work}${others(toMix)}`;
  }
  const [next] = toMixLater;
  if (!next) return null;
  const when = `${dayWords(next.sessionDate)} at ${clockWords(next.sessionStartsAt, timeZone)}`;
  return `Next to mix is ${next.look.name} on ${when}`;
}

function trayWords(
  { toUnmold, rested, inMold, resting }: BenchDay<OpenRun, LyingLot>,
  timeZone: string,
): string | null {
  const parts = [
    toUnmold.length > 0 ? `${pieces(unitsOf(toUnmold))} can leave their molds` : "",
    rested.length > 0 ? `${pieces(unitsOf(rested))} have rested long enough` : "",
  ].filter((part) => part !== "");
  if (parts.length > 0) return listed(parts);
  const [drying] = inMold;
  if (drying?.unmoldDueAt)
    return `the next pieces leave their molds ${momentWords(drying.unmoldDueAt, timeZone)}`;
  const [lot] = resting;
  return lot?.readyDueAt ? `the next pieces are ready ${momentWords(lot.readyDueAt, timeZone)}` : null;
}

/** Pieces of a run that are not pressed yet. */
export function unitsToPress(run: OpenRun): number {
  return run.lots
    .filter((lot) => lot.state === "planned" || lot.state === "mixing")
    .reduce((sum, lot) => sum + lot.plannedUnits, 0);
}

function unitsOf(lots: readonly LyingLot[]): number {
  return lots.reduce((sum, lot) => sum + lot.units, 0);
}

function others(runs: readonly OpenRun[]): string {
  return runs.length > 1 ? `, then ${counted(runs.length - 1, "more run")}` : "";
}
