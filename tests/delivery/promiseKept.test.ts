import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  keptIn,
  keptLines,
  type PiecesLeft,
  type PromiseMade,
  promiseThatCounts,
  verdictOf,
} from "../../server/delivery/promiseKept.ts";

const CEDAR = 1;
const OAT = 2;

describe("the promise an order is held to", () => {
  it("is the last one made while the one before still stood", () => {
    const made = [promise(1, 5), promise(3, 8), promise(8, 12)];
    expect(promiseThatCounts(made).shipBy).toBe(day(12));
  });

  it("is not one that was made when the date had gone by, nor any after it", () => {
    const made = [promise(1, 5), promise(6, 9), promise(7, 20)];
    expect(promiseThatCounts(made).shipBy).toBe(day(5));
  });
});

describe("what became of it", () => {
  it("is on time when the last piece left on the date itself, and late by one piece or one day", () => {
    const promised = promise(1, 5, { [CEDAR]: 12, [OAT]: 6 });
    const verdict = (left: readonly PiecesLeft[], today: number) =>
      verdictOf(promised, keptLines(promised, left), day(today));
    const whole = [left(4, CEDAR, 12), left(5, OAT, 6)];
    expect(verdict(whole, 5)).toBe("on-time");
    expect(verdict([left(4, CEDAR, 12), left(5, OAT, 5)], 6)).toBe("late");
    expect(verdict([left(4, CEDAR, 12), left(6, OAT, 6)], 30)).toBe("late");
    // More of one is never less of another.
    expect(verdict([left(4, CEDAR, 18)], 6)).toBe("late");
    expect(verdict([], 5)).toBe("not-due");
    expect(verdict([], 6)).toBe("late");
  });

  it("stands beside the promise line by line: in time, later, and when the last of it left", () => {
    const promised = promise(1, 5, { [CEDAR]: 12, [OAT]: 6 });
    expect(keptLines(promised, [left(3, CEDAR, 4), left(9, CEDAR, 5), left(7, CEDAR, 1)])).toEqual([
      { productId: CEDAR, promised: 12, inTime: 4, later: 6, lastLeftOn: day(9) },
      { productId: OAT, promised: 6, inTime: 0, later: 0, lastLeftOn: null },
    ]);
  });
});

it("rates by month and customer are what going through the days of any history, one by one, counts", () => {
  fc.assert(
    fc.property(
      fc.array(history(), { maxLength: 12 }),
      fc.integer({ min: 1, max: LAST_DAY }),
      (orders, today) => {
        const judged = orders.map(({ customerId, made, pieces }) => {
          const promised = promiseThatCounts(made);
          const gone = pieces.filter(({ leftOn }) => leftOn <= day(today));
          return {
            customerId,
            shipBy: promised.shipBy,
            verdict: verdictOf(promised, keptLines(promised, gone), day(today)),
          };
        });
        for (const month of ["2027-01", "2027-02", "2027-03"])
          for (const customerId of [null, 1, 2]) {
            const own = judged.filter((order) => customerId === null || order.customerId === customerId);
            expect(keptIn(own, month)).toEqual(recounted(orders, today, month, customerId));
          }
      },
    ),
    { numRuns: 300 },
  );
});

/** Days that a generated history runs over: 1 January 2027 and so many after it. */
const LAST_DAY = 80;

interface History {
  readonly customerId: number;
  readonly made: readonly PromiseMade[];
  readonly pieces: readonly PiecesLeft[];
}

/** An order confirmed and moved some times, whose pieces left in parts, some late, some never. */
function history(): fc.Arbitrary<History> {
  const units = fc.record({ [CEDAR]: fc.integer({ min: 1, max: 4 }), [OAT]: fc.integer({ min: 1, max: 4 }) });
  const made = fc.array(
    fc.tuple(fc.integer({ min: 1, max: LAST_DAY }), fc.integer({ min: 0, max: 20 }), units),
    { minLength: 1, maxLength: 4 },
  );
  const piece = fc.tuple(
    fc.integer({ min: 1, max: LAST_DAY }),
    fc.constantFrom(CEDAR, OAT),
    fc.integer({ min: 1, max: 4 }),
  );
  return fc
    .record({ customerId: fc.constantFrom(1, 2), made, pieces: fc.array(piece, { maxLength: 6 }) })
    .map((drawn) => ({
      customerId: drawn.customerId,
      made: drawn.made
        .toSorted(([one], [other]) => one - other)
        .map(([on, ahead, lines]) => promise(on, on + ahead, lines)),
      pieces: drawn.pieces.map((parts) => left(...parts)),
    }));
}

/** Lives through the days: what stands promised each morning, what has left each evening. */
function recounted(orders: readonly History[], today: number, month: string, customerId: number | null) {
  let [kept, of] = [0, 0];
  for (const order of orders) {
    const promised = standsInTheEnd(order.made);
    if (customerId !== null && order.customerId !== customerId) continue;
    if (!promised.shipBy.startsWith(month)) continue;
    const { whole, isOver } = livedThrough(promised, order.pieces, today);
    if (whole) kept += 1;
    if (whole || isOver) of += 1;
  }
  return { kept, of };
}

function livedThrough({ shipBy, lines }: PromiseMade, pieces: readonly PiecesLeft[], today: number) {
  const gone = new Map<number, number>();
  let isOver = false;
  for (let now = 1; now <= today && !isOver; now += 1) {
    isOver = day(now) > shipBy;
    for (const { leftOn, productId, units } of pieces)
      if (!isOver && leftOn === day(now)) gone.set(productId, (gone.get(productId) ?? 0) + units);
  }
  return { whole: lines.every(({ productId, units }) => (gone.get(productId) ?? 0) >= units), isOver };
}

function standsInTheEnd(made: readonly PromiseMade[]): PromiseMade {
  let stands: PromiseMade | undefined;
  for (let now = 1; now <= LAST_DAY; now += 1) {
    if (stands && day(now) > stands.shipBy) break;
    for (const next of made) if (next.madeOn === day(now)) stands = next;
  }
  if (!stands) throw new Error("Something is promised on one of the days");
  return stands;
}

function promise(
  on: number,
  by: number,
  lines: Readonly<Record<number, number>> = { [CEDAR]: 1 },
): PromiseMade {
  return {
    madeOn: day(on),
    shipBy: day(by),
    lines: Object.entries(lines).map(([productId, units]) => ({ productId: Number(productId), units })),
  };
}

function left(on: number, productId: number, units: number): PiecesLeft {
  return { leftOn: day(on), productId, units };
}

/** Day 1 is 1 January 2027. */
function day(number: number): string {
  return new Date(Date.UTC(2027, 0, number)).toISOString().slice(0, 10);
}
