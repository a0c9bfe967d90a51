/** Everything at the bench, sorted by what it asks for at one moment; in each part the order it came in. */
export interface BenchDay<Run, Lot> {
  /** Started: in the bowl or being pressed. */
  readonly pressing: readonly Run[];
  /** Planned for a session that has begun, or was missed. */
  readonly toMix: readonly Run[];
  /** Planned for sessions to come. */
  readonly toMixLater: readonly Run[];
  /** To be turned over in their molds. */
  readonly toTurn: readonly Lot[];
  readonly toUnmold: readonly Lot[];
  readonly inMold: readonly Lot[];
  /** Rested long enough. */
  readonly rested: readonly Lot[];
  readonly resting: readonly Lot[];
}

interface TimedRun {
  readonly state: "planned" | "mixing";
  readonly sessionStartsAt: Date;
}

interface TimedLot {
  readonly state: "drying" | "resting";
  /** Null: not to be turned any more. */
  readonly turnDueAt: Date | null;
  readonly unmoldDueAt: Date | null;
  readonly readyDueAt: Date | null;
}

export function benchDay<Run extends TimedRun, Lot extends TimedLot>(
  runs: readonly Run[],
  lots: readonly Lot[],
  now: Date,
): BenchDay<Run, Lot> {
  const planned = runs.filter((run) => run.state === "planned");
  const drying = lots.filter((lot) => lot.state === "drying");
  const resting = lots.filter((lot) => lot.state === "resting");
  const due = (time: Date | null) => time !== null && time <= now;
  return {
    pressing: runs.filter((run) => run.state === "mixing"),
    toMix: planned.filter((run) => due(run.sessionStartsAt)),
    toMixLater: planned.filter((run) => !due(run.sessionStartsAt)),
    toTurn: drying.filter((lot) => due(lot.turnDueAt) && !due(lot.unmoldDueAt)),
    toUnmold: drying.filter((lot) => due(lot.unmoldDueAt)),
    inMold: drying.filter((lot) => !due(lot.unmoldDueAt) && !due(lot.turnDueAt)),
    rested: resting.filter((lot) => due(lot.readyDueAt)),
    resting: resting.filter((lot) => !due(lot.readyDueAt)),
  };
}
