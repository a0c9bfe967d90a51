import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { driveMinutes, placeable } from "../../server/round/driveMinutes.ts";
import { greatCircleKilometres, type Point } from "../../server/round/greatCircle.ts";
import {
  exactRound,
  goodRound,
  type Minutes,
  roundMinutes,
  shortestRound,
} from "../../server/round/shortestRound.ts";

/*
 * burma14 of TSPLIB (G. Reinelt, "TSPLIB: a traveling salesman problem library", ORSA Journal on Computing 3, 1991), its
 * coordinates, its rule for distances (GEO) and its optimum of 3323 written from memory: that an exact search comes to the
 * published optimum is what vouches for the rest.
 */
const BURMA = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
] as const;
const BURMA_SHORTEST = 3323;
/** As its rule writes it. */
const TSPLIB_PI = 3_141_592 / 1_000_000;

describe("the shortest round", () => {
  it("comes to the published optimum of burma14", () => {
    expect(exactRound(burma()).minutes).toBe(BURMA_SHORTEST);
    // Good is within a tenth here; it is the best order itself that is not promised.
    expect(goodRound(burma()).minutes).toBeLessThanOrEqual(BURMA_SHORTEST * 1.1);
  });

  it("is what trying every order finds, one-way streets or not", () => {
    fc.assert(
      fc.property(tables(6), (minutes) => {
        const round = exactRound(minutes);
        expect(round.minutes).toBe(shortestOfAll(minutes));
        expect(roundMinutes(minutes, round.stops)).toBe(round.minutes);
      }),
      { numRuns: 150 },
    );
  });

  it("visits every stop once, is never beaten by the good one, and is the same for the same table", () => {
    fc.assert(
      fc.property(tables(9), (minutes) => {
        const all = Array.from({ length: minutes.length - 1 }, (_, place) => place + 1);
        const [exact, good] = [shortestRound(minutes), goodRound(minutes)];
        for (const { stops } of [exact, good])
          expect(stops.toSorted((one, other) => one - other)).toEqual(all);
        expect(good.minutes).toBeGreaterThanOrEqual(exact.minutes);
        expect([exact.exact, good.exact]).toEqual([true, false]);
        expect(shortestRound(minutes)).toEqual(exact);
      }),
      { numRuns: 100 },
    );
  });

  it("is exact up to ten stops and says beyond that it is only good", () => {
    expect([shortestRound(circle(10)).exact, shortestRound(circle(11)).exact]).toEqual([true, false]);
    // Eleven and forty places on a circle: round it once is shortest, and the good way finds it.
    for (const count of [11, 40])
      expect(shortestRound(circle(count)).minutes).toBe(roundMinutes(circle(count), inTurn(count)));
  });

  it("stays at home when there is no stop", () => {
    expect(shortestRound([[0]])).toEqual({ stops: [], minutes: 0, exact: true });
  });
});

describe("minutes from place to place", () => {
  const DRIVING = { kilometresAnHour: 30, roadPercent: 130 };

  it("come from the great circle: a degree of latitude, a quarter of the equator, and nothing to itself", () => {
    const equator = 2 * Math.PI * 6371.0088;
    expect(greatCircleKilometres(point(0, 0), point(1, 0))).toBeCloseTo(equator / 360, 6);
    expect(greatCircleKilometres(point(0, 10), point(0, 100))).toBeCloseTo(equator / 4, 6);
    expect(greatCircleKilometres(point(0, 0), point(0, 180))).toBeCloseTo(equator / 2, 6);
    expect(greatCircleKilometres(point(52, 13), point(52, 13))).toBe(0);
    // From memory: the pair that is usually worked, 36.12 N 86.67 W to 33.94 N 118.40 W, is 2886.44 km on a radius of 6371.
    const worked = greatCircleKilometres(point(36.12, -86.67), point(33.94, -118.4));
    expect((worked / 6371.0088) * 6371).toBeCloseTo(2886.44, 2);
  });

  it("are begun minutes at the shop's speed on roads that much longer than the straight line", () => {
    const places = [place(1, point(0, 0)), place(2, point(0.1, 0))];
    // 11.1195 km, 14.455 km by road, 28.9 minutes at 30 km/h.
    expect(driveMinutes(places, [], DRIVING)).toEqual([
      [0, 29],
      [29, 0],
    ]);
  });

  it("are those that were entered, both ways, where somebody entered them", () => {
    const places = [place(1, point(0, 0)), place(2, point(0.1, 0)), place(3, null)];
    const entered = [
      { oneId: 1, otherId: 2, minutes: 45 },
      { oneId: 1, otherId: 3, minutes: 7 },
    ];
    expect(driveMinutes(places, entered, DRIVING)).toEqual([
      [0, 45, 7],
      [45, 0, null],
      [7, null, 0],
    ]);
  });

  it("leave out the stops that cannot be placed, and no more than these", () => {
    const table = [
      [0, 4, 6, null],
      [4, 0, 3, null],
      [6, 3, 0, 9],
      [null, null, 9, 0],
    ];
    expect(placeable(table)).toEqual({
      stops: [1, 2],
      left: [3],
      minutes: [
        [0, 4, 6],
        [4, 0, 3],
        [6, 3, 0],
      ],
    });
  });
});

/** Tables for at most so many stops, both directions drawn by themselves. */
function tables(most: number): fc.Arbitrary<Minutes> {
  return fc.integer({ min: 1, max: most }).chain((stops) =>
    fc.array(fc.array(fc.nat({ max: 60 }), { minLength: stops + 1, maxLength: stops + 1 }), {
      minLength: stops + 1,
      maxLength: stops + 1,
    }),
  );
}

function shortestOfAll(minutes: Minutes): number {
  const tryAll = (done: readonly number[]): number => {
    const left = minutes.map((_, stop) => stop).filter((stop) => stop > 0 && !done.includes(stop));
    if (left.length === 0) return roundMinutes(minutes, done);
    return Math.min(...left.map((stop) => tryAll([...done, stop])));
  };
  return tryAll([]);
}

/** The workshop and so many stops on a circle, shuffled so that their numbers tell nothing. */
function circle(stops: number): Minutes {
  const count = stops + 1;
  const angle = (stop: number) => (((stop * 7) % count) / count) * 2 * Math.PI;
  const chord = (one: number, other: number) =>
    Math.round(10_000 * Math.abs(Math.sin((angle(one) - angle(other)) / 2)));
  return Array.from({ length: count }, (_, from) =>
    Array.from({ length: count }, (_, to) => chord(from, to)),
  );
}

/** The stops of that circle one after the other. */
function inTurn(stops: number): readonly number[] {
  const count = stops + 1;
  const around = (stop: number) => (stop * 7) % count;
  return Array.from({ length: stops }, (_, place) => place + 1).toSorted(
    (one, other) => around(one) - around(other),
  );
}

/** Distances of TSPLIB's GEO rule: degrees and minutes to radians, a sphere of 6378.388 km, whole kilometres. */
function burma(): Minutes {
  const radians = (coordinate: number) => {
    const degrees = Math.trunc(coordinate);
    return (TSPLIB_PI * (degrees + (5 * (coordinate - degrees)) / 3)) / 180;
  };
  const points = BURMA.map(([north, east]) => [radians(north), radians(east)] as const);
  return points.map(([north, east], from) =>
    points.map(([otherNorth, otherEast], to) => {
      if (from === to) return 0;
      const q1 = Math.cos(east - otherEast);
      const q2 = Math.cos(north - otherNorth);
      const q3 = Math.cos(north + otherNorth);
      return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1);
    }),
  );
}

function point(north: number, east: number): Point {
  return { latitudeMicro: Math.round(north * 1_000_000), longitudeMicro: Math.round(east * 1_000_000) };
}

function place(placeId: number, where: Point | null) {
  return { placeId, point: where };
}
