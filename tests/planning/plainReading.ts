import type { JsonCase, JsonOrder, JsonShape } from "./independentChecker.ts";

/**
 * A case as the two reference solvers of the tests see it: what may be formed when, what that uses, where pieces can
 * come from and how late they are. Read from the model's text in the plainest way, with no code of the planner.
 */
export interface PlainCase {
  readonly question: JsonCase;
  /** What may be formed: a product in a session in which it can still dry and be packed. */
  readonly formings: readonly Forming[];
  /** By product. */
  readonly sources: readonly (readonly Source[])[];
  readonly room: Room;
  readonly orders: readonly PlainOrder[];
}

/** Pieces of one product formed in one session, and what each piece uses. */
export interface Forming {
  readonly product: number;
  readonly blend: string;
  readonly session: number;
  readonly shape: JsonShape;
  /** Sessions of unmolding and packing. */
  readonly unmold: number;
  readonly pack: number;
  /** Hand minutes a piece takes in each session. */
  readonly minutes: readonly number[];
}

/** Where pieces of a product come from. `day` counts days since 1970; stock has none and is on time for any order. */
export type Source = { readonly day: number } & (
  | { readonly from: "stock"; readonly units: number }
  | { readonly from: "drying"; readonly units: number; readonly drying: number }
  | { readonly from: "run"; readonly forming: Forming }
);

/** What is left of each limit in each session for the plan to use, with what dries already taken off. */
export interface Room {
  readonly hands: readonly number[];
  readonly trays: readonly number[];
  readonly bowls: readonly number[];
  /** By shape id, then session; a shape that dries without molds has endless room. */
  readonly molds: ReadonlyMap<string, readonly number[]>;
}

export interface PlainOrder {
  readonly order: JsonOrder;
  readonly units: number;
  readonly shipByDay: number;
  /** Days late of a unit that is never served. */
  readonly neverDays: number;
}

/** The day of whatever is on time for any order. */
export const always = Number.NEGATIVE_INFINITY;

export function readPlainly(question: JsonCase): PlainCase {
  const formings = formingsOf(question);
  const lastDay = dayOf(question.sessions.at(-1)?.date ?? "");
  return {
    question,
    formings,
    sources: question.products.map((_, product) => sourcesOf(question, product, formings)),
    room: roomOf(question),
    orders: question.orders.map((order) => ({
      order,
      units: order.lines.reduce((sum, line) => sum + line.units, 0),
      shipByDay: dayOf(order.shipBy),
      neverDays: Math.max(7, lastDay + 7 - dayOf(order.shipBy)),
    })),
  };
}

/** Least bowls for so much mix, 0 for none, null where no number of bowls takes it. More bowls than these never help. */
export function bowlsFor(question: JsonCase, grams: number): number | null {
  const bowls = Math.ceil(grams / question.bowlGrams - 1e-9);
  return bowls * question.minBowlGrams <= grams + 1e-6 ? bowls : null;
}

/** Hand minutes of a piece over all sessions. */
export function minutesPerPiece(forming: Forming): number {
  return forming.minutes.reduce((sum, minutes) => sum + minutes, 0);
}

/** Whole days a piece of a source is late for an order. */
export function daysLate(order: PlainOrder, day: number): number {
  return Math.max(0, day - order.shipByDay);
}

function formingsOf(question: JsonCase): readonly Forming[] {
  return question.sessions.flatMap((session, at) => {
    if (session.mixing === false) return [];
    return question.products.flatMap((product, index): Forming[] => {
      const shape = shapeOf(question, index);
      const factor = session.dryingFactor ?? 1;
      const dry = minuteOf(session.date, session.end) + wholeMinutes(shape.moldHours * factor * 60);
      const unmold = firstSession(question, at + 1, dry);
      const unmolding = question.sessions[unmold];
      if (unmolding === undefined) return [];
      const rested = minuteOf(unmolding.date, unmolding.start) + wholeMinutes(shape.restHours * factor * 60);
      const pack = firstSession(question, unmold, rested);
      if (pack >= question.sessions.length) return [];
      const minutes = question.sessions.map(
        (_, here) =>
          (here === at ? shape.formMinutes : 0) +
          (at <= here && here < unmold ? shape.turnMinutes : 0) +
          (here === unmold ? shape.unmoldMinutes : 0) +
          (here === pack ? shape.packMinutes : 0),
      );
      return [{ product: index, blend: product.blend, session: at, shape, unmold, pack, minutes }];
    });
  });
}

function sourcesOf(question: JsonCase, product: number, formings: readonly Forming[]): readonly Source[] {
  const id = question.products[product]?.id;
  const dayOfSession = (session: number) => dayOf(question.sessions[session]?.date ?? "");
  return [
    ...(question.stock ?? [])
      .filter((stock) => stock.product === id)
      .map(({ units }): Source => ({ from: "stock", day: always, units })),
    ...(question.drying ?? []).flatMap((entry, drying): Source[] => {
      const { pack } = dryingTimes(question, drying);
      if (entry.product !== id || pack >= question.sessions.length) return [];
      return [{ from: "drying", day: dayOfSession(pack), units: entry.units, drying }];
    }),
    ...formings
      .filter((forming) => forming.product === product)
      .map((forming): Source => ({ from: "run", day: dayOfSession(forming.pack), forming })),
  ];
}

function roomOf(question: JsonCase): Room {
  const hands = question.sessions.map((session) => session.handMinutes);
  const trays = question.sessions.map(() => question.trays);
  const molds = new Map(
    question.shapes.map((shape) => [shape.id, question.sessions.map(() => moldsOf(shape))]),
  );
  const take = (room: number[], session: number, amount: number) => {
    room[session] = (room[session] ?? 0) - amount;
  };
  (question.drying ?? []).forEach((entry, index) => {
    const shape = shapeOf(
      question,
      question.products.findIndex(({ id }) => id === entry.product),
    );
    const { unmold, pack } = dryingTimes(question, index);
    question.sessions.forEach((_, session) => {
      if (session < unmold) take(molds.get(shape.id) ?? [], session, entry.units);
      if (session < unmold) take(hands, session, entry.units * shape.turnMinutes);
      if (session < pack) take(trays, session, entry.trays);
      if (session === unmold && entry.unmoldAt !== null) {
        take(hands, session, entry.units * shape.unmoldMinutes);
      }
      if (session === pack) take(hands, session, entry.units * shape.packMinutes);
    });
  });
  // Where what dries already is beyond a limit the plan may add nothing, which is no room at all.
  const atLeastNone = (room: readonly number[]) => room.map((left) => Math.max(0, left));
  return {
    hands: atLeastNone(hands),
    trays: atLeastNone(trays),
    molds: new Map([...molds].map(([shape, room]) => [shape, atLeastNone(room)])),
    bowls: question.sessions.map(
      (session) =>
        question.mixers *
        Math.floor(
          (minuteOf(session.date, session.end) - minuteOf(session.date, session.start)) /
            question.bowlMinutes,
        ),
    ),
  };
}

function moldsOf(shape: JsonShape): number {
  if (shape.driesIn === "none") return Number.POSITIVE_INFINITY;
  if (shape.driesIn === "whole") return shape.moldSets;
  return Math.max(0, 2 * shape.moldSets - 1);
}

function dryingTimes(question: JsonCase, drying: number): { unmold: number; pack: number } {
  const entry = question.drying?.[drying];
  if (entry === undefined) throw new Error(`no drying entry ${drying}`);
  const unmold = entry.unmoldAt === null ? 0 : firstSession(question, 0, minuteOf(...split(entry.unmoldAt)));
  return { unmold, pack: firstSession(question, unmold, minuteOf(...split(entry.packAt))) };
}

function split(moment: string): [date: string, time: string] {
  return [moment.slice(0, 10), moment.slice(11)];
}

function shapeOf(question: JsonCase, product: number): JsonShape {
  const shape = question.shapes.find(({ id }) => id === question.products[product]?.shape);
  if (shape === undefined) throw new Error(`no shape for product ${product}`);
  return shape;
}

/** First session from `from` on that starts at `minute` or later; past the last one where there is none. */
function firstSession(question: JsonCase, from: number, minute: number): number {
  const count = question.sessions.length;
  for (let session = from; session < count; session++) {
    const { date = "", start = "" } = question.sessions[session] ?? {};
    if (minuteOf(date, start) >= minute) return session;
  }
  return count;
}

/** Up to the whole minute, after taking off floating-point noise. */
function wholeMinutes(minutes: number): number {
  return Math.ceil(minutes - 1e-6);
}

function minuteOf(date: string, time: string): number {
  return dayOf(date) * 1440 + Number(time.slice(0, 2)) * 60 + Number(time.slice(3));
}

function dayOf(date: string): number {
  return Date.parse(date) / 86_400_000;
}
