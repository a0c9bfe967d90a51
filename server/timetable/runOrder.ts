/** What the order of runs depends on. */
export interface OrderedRun {
  readonly runId: number;
  /** 0 lightest .. 1 darkest. */
  readonly shade: number;
  /** The scent oils in it, none for a blend without scent; null: not known. */
  readonly scents: readonly number[] | null;
}

/**
 * So much darker a run may be and still come before a lighter one, for the sake of a scent they share. Common practice
 * is only "light before dark"; where two colours are as good as equally light is ours to say: a tenth of the way from
 * white to black.
 */
export const NEARLY_AS_LIGHT = 0.1;

/** Up to so many runs the order is the best there is; trying more in every order would take too long. */
export const MOST_ORDERED_EXACTLY = 10;

export interface RunOrder<Run> {
  readonly runs: readonly Run[];
  /** Whether no order within the rule has fewer changes of scent. */
  readonly isBest: boolean;
}

/**
 * Light before dark, and runs that share a scent oil one after the other, so that the bowl is scrubbed for scent as
 * seldom as can be. Rule first: no run comes after one that is clearly darker. Among the orders that keep it, the fewest
 * changes of scent; then the fewest hundredths of shade back to lighter from one run to the next; then by shade and number.
 *
 * @param before what was in the bowl last; null at the start of a day
 */
export function orderRuns<Run extends OrderedRun>(
  runs: readonly Run[],
  before: OrderedRun | null = null,
): RunOrder<Run> {
  const lightestFirst = [...runs].sort((one, other) => one.shade - other.shade || one.runId - other.runId);
  const isBest = runs.length <= MOST_ORDERED_EXACTLY;
  return {
    runs: isBest ? tryAll(lightestFirst, before) : followScents(lightestFirst, before),
    isBest,
  };
}

/** Whether the rule of light before dark keeps `one` before `other`. */
export function mustComeBefore(one: OrderedRun, other: OrderedRun): boolean {
  return hundredths(other) - hundredths(one) > NEARLY_AS_LIGHT * 100;
}

/** What going from one run to the next costs: a change of scent before any hundredths of shade back to lighter. */
export function stepCost(from: OrderedRun | null, to: OrderedRun): number {
  if (from === null) return 0;
  return (shareScent(from, to) ? 0 : CHANGE_OF_SCENT) + Math.max(0, hundredths(from) - hundredths(to));
}

/** More than the hundredths of any day's runs add up to. */
const CHANGE_OF_SCENT = 1_000_000;

function shareScent({ scents: ours }: OrderedRun, { scents: theirs }: OrderedRun): boolean {
  if (ours === null || theirs === null) return false;
  if (ours.length === 0 && theirs.length === 0) return true;
  return ours.some((scent) => theirs.includes(scent));
}

function hundredths({ shade }: OrderedRun): number {
  return Math.round(shade * 100);
}

/**
 * The best order of every set of runs that are left, by the run before them, from small sets to large ones (Held and
 * Karp, 1962): n² 2ⁿ steps instead of n!.
 */
function tryAll<Run extends OrderedRun>(runs: readonly Run[], before: OrderedRun | null): readonly Run[] {
  const count = runs.length;
  const mayFollow = runs.map((run) =>
    runs.reduce((set, other, place) => (mustComeBefore(other, run) ? set | (1 << place) : set), 0),
  );
  // cheapest[left * count + last]: cost of the runs in `left`, after `last`.
  const cheapest = new Float64Array((1 << count) * count);
  const cost = (left: number, last: number) => cheapest[left * count + last] ?? 0;
  const choose = (left: number, from: OrderedRun | null) => {
    let best = { place: -1, cost: Number.POSITIVE_INFINITY };
    runs.forEach((run, place) => {
      if ((left & (1 << place)) === 0 || ((mayFollow[place] ?? 0) & left) !== 0) return;
      const all = stepCost(from, run) + cost(left & ~(1 << place), place);
      if (all < best.cost) best = { place, cost: all };
    });
    return best;
  };
  for (let left = 1; left < 1 << count; left += 1)
    runs.forEach((last, place) => {
      if ((left & (1 << place)) === 0) cheapest[left * count + place] = choose(left, last).cost;
    });
  const ordered: Run[] = [];
  for (let left = (1 << count) - 1; left !== 0; ) {
    const { place } = choose(left, ordered.at(-1) ?? before);
    const next = runs[place];
    if (next === undefined) throw new Error("Light before dark leaves the lightest run to go on with");
    ordered.push(next);
    left &= ~(1 << place);
  }
  return ordered;
}

/** For many runs: each time the cheapest step the rule allows, the lightest of equals. */
function followScents<Run extends OrderedRun>(
  lightestFirst: readonly Run[],
  before: OrderedRun | null,
): readonly Run[] {
  const ordered: Run[] = [];
  let left = lightestFirst;
  while (left.length > 0) {
    const from = ordered.at(-1) ?? before;
    const open = left.filter((run) => !left.some((other) => mustComeBefore(other, run)));
    const next = open.reduce((best, run) => (stepCost(from, run) < stepCost(from, best) ? run : best));
    ordered.push(next);
    left = left.filter((run) => run !== next);
  }
  return ordered;
}
