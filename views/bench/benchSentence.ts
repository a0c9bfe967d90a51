import type { BenchDay } from "../../server/bench/benchDay.ts";
import type { LyingLot, OpenRun } from "../../server/bench/queries.ts";
import { whenWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";

/** What to do now, in one sentence: first at the bowl, then at the trays. */
export function benchSentence(day: BenchDay<OpenRun, LyingLot>, now: Date, timeZone: string): string {
  const [bowl, trays] = [bowlWords(day, now, timeZone), trayWords(day, now, timeZone)];
  if (bowl === null) return trays === null ? "Nothing waits at the bench." : sentence(trays);
  return trays === null ? `${bowl}.` : `${bowl}; ${trays}.`;
}

function bowlWords(
  { pressing, toMix, toMixLater }: BenchDay<OpenRun, LyingLot>,
  now: Date,
  timeZone: string,
): string | null {
  const [inBowl] = pressing;
  if (inBowl) return `Press ${inBowl.look.name} now: ${pieces(unitsToPress(inBowl))}${others(pressing)}`;
  const [first] = toMix;
  if (first) {
    const work = `${counted(first.bowls, "bowl")}, ${pieces(unitsToPress(first))}`;
    return `Mix ${first.look.name} now: ${work}${others(toMix)}`;
  }
  const [next] = toMixLater;
  if (!next) return null;
  return `Next to mix is ${next.look.name} ${whenWords(next.sessionStartsAt, now, timeZone)}`;
}

function trayWords(
  { toTurn, toUnmold, rested, inMold, resting }: BenchDay<OpenRun, LyingLot>,
  now: Date,
  timeZone: string,
): string | null {
  const parts = [
    toTurn.length > 0 ? `${pieces(unitsOf(toTurn))} are to be turned` : "",
    toUnmold.length > 0 ? `${pieces(unitsOf(toUnmold))} can leave their molds` : "",
    rested.length > 0 ? `${pieces(unitsOf(rested))} have rested long enough` : "",
  ].filter((part) => part !== "");
  if (parts.length > 0) return listed(parts);
  const [drying] = inMold;
  if (drying?.unmoldDueAt)
    return `the next pieces leave their molds ${whenWords(drying.unmoldDueAt, now, timeZone)}`;
  const [lot] = resting;
  return lot?.readyDueAt ? `the next pieces are ready ${whenWords(lot.readyDueAt, now, timeZone)}` : null;
}

/** Pieces of a run that are not pressed yet. */
function unitsToPress(run: OpenRun): number {
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
