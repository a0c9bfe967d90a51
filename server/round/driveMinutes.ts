import { greatCircleKilometres, type Point } from "./greatCircle.ts";
import type { Minutes } from "./shortestRound.ts";

/** How the shop drives where no minutes were entered. */
export interface Driving {
  readonly kilometresAnHour: number;
  /** How much longer the road is than the straight line, in per cent of it: 130 is a third longer. */
  readonly roadPercent: number;
}

/** A place of a round: where it is, if anybody said. */
export interface RoundPlace {
  readonly placeId: number;
  readonly point: Point | null;
}

/** Minutes that somebody entered between two places; the same both ways. */
export interface EnteredMinutes {
  readonly oneId: number;
  readonly otherId: number;
  readonly minutes: number;
}

/** From place to place in whole minutes, begun minutes counted; null where nothing tells them. What was entered wins. */
export function driveMinutes(
  places: readonly RoundPlace[],
  entered: readonly EnteredMinutes[],
  driving: Driving,
): readonly (readonly (number | null)[])[] {
  const known = new Map(entered.map(({ oneId, otherId, minutes }) => [pairOf(oneId, otherId), minutes]));
  return places.map((from) =>
    places.map((to) => {
      if (from.placeId === to.placeId) return 0;
      return known.get(pairOf(from.placeId, to.placeId)) ?? byDistance(from, to, driving);
    }),
  );
}

function byDistance(
  from: RoundPlace,
  to: RoundPlace,
  { kilometresAnHour, roadPercent }: Driving,
): number | null {
  if (!from.point || !to.point) return null;
  const kilometres = (greatCircleKilometres(from.point, to.point) * roadPercent) / 100;
  return Math.ceil((kilometres / kilometresAnHour) * 60);
}

function pairOf(one: number, other: number): string {
  return one < other ? `${one} ${other}` : `${other} ${one}`;
}

/**
 * The stops that can be put into an order, and those that cannot, by their place in the table (0 is the workshop): a stop is
 * left out as long as the minutes from it to some other place are not known, the one that lacks most of them first.
 */
export function placeable(table: readonly (readonly (number | null)[])[]): {
  readonly stops: readonly number[];
  readonly left: readonly number[];
  readonly minutes: Minutes;
} {
  let stops = table.map((_, place) => place).slice(1);
  const left: number[] = [];
  const lacking = (stop: number) =>
    [0, ...stops].filter((place) => (table[stop]?.[place] ?? null) === null).length;
  for (;;) {
    const [worst] = stops.toSorted((one, other) => lacking(other) - lacking(one) || one - other);
    if (worst === undefined || lacking(worst) === 0) break;
    left.push(worst);
    stops = stops.filter((stop) => stop !== worst);
  }
  const places = [0, ...stops];
  return {
    stops,
    left: left.toSorted((one, other) => one - other),
    minutes: places.map((from) => places.map((to) => table[from]?.[to] ?? 0)),
  };
}
