import { ok, type Result, refuse } from "../basics/result.ts";
import type { Drying, Order, PlanCase, Product, Session, Shape } from "../planning/case.ts";
import { parseCase } from "../planning/parseCase.ts";
import { type ComingSession, comingSessions, minutesBetween, nextWholeMinute } from "./calendar.ts";
import { type CaseClock, caseClockFrom } from "./caseClock.ts";
import type { LotFacts, PlanFacts, ShapeFacts } from "./planFacts.ts";
import { lossesToCome, withSpares } from "./spares.ts";

/** True start and end of a session of a case. */
export interface SessionInstants {
  readonly startsAt: Date;
  readonly endsAt: Date;
}

/** A question for the planner, and where its sessions really stand in time. */
export interface BuiltCase {
  readonly planCase: PlanCase;
  /** One entry a session of the case. */
  readonly sessionInstants: readonly SessionInstants[];
}

/** Why there is no question to put to the planner. */
export type NoCase =
  | { readonly kind: "no-sessions" }
  | { readonly kind: "no-orders" }
  /** A clock change would carry this date's session over midnight on the clock of the case. */
  | { readonly kind: "over-midnight"; readonly date: string }
  /** Beyond what the planner takes; in the planner's own words. */
  | { readonly kind: "too-large"; readonly problems: readonly string[] };

/**
 * Turns what the rows say into the question for the planner, as of `now`. This is the only place where the workshop's
 * time zone meets the planner's sessions.
 */
export function buildCase(facts: PlanFacts, now: Date): Result<BuiltCase, NoCase> {
  const coming = comingSessions(facts.calendar, now);
  const [first] = coming;
  if (first === undefined) return refuse({ kind: "no-sessions" });
  if (facts.orders.length === 0) return refuse({ kind: "no-orders" });
  const clock = caseClockFrom(first.startsAt, facts.calendar.timeZone);
  const sessions = coming.map((session) =>
    sessionOnClock(session, clock, handMinutesFor(session, facts, now)),
  );
  const lost = sessions.indexOf(null);
  if (lost >= 0) return refuse({ kind: "over-midnight", date: coming[lost]?.date ?? first.date });
  const planCase: PlanCase = {
    name: `${facts.workshop.name.slice(0, 100)}, ${first.date}`,
    sessions: sessions.filter((session) => session !== null),
    ...workshopNumbers(facts),
    shapes: facts.shapes.map(shapeOfFacts),
    blends: facts.blends.map(({ code, shade }) => ({ id: code, shade })),
    products: facts.products.map(productOfFacts),
    stock: facts.stock,
    drying: facts.lots.map((lot) => dryingOfLot(lot, facts, coming, clock, now)),
    orders: facts.orders.map(orderOfFacts),
  };
  return withinLimits(withSpares(planCase), coming);
}

/** The planner's own reading of the case: what it would refuse from a file it refuses here. */
function withinLimits(planCase: PlanCase, sessions: readonly ComingSession[]): Result<BuiltCase, NoCase> {
  const parsed = parseCase(planCase);
  if (!parsed.ok) {
    const problems = parsed.refusal.map(({ path, problem }) => `${path.replace(/^\$\./, "")} ${problem}`);
    return refuse({ kind: "too-large", problems });
  }
  const sessionInstants = sessions.map(({ startsAt, endsAt }) => ({ startsAt, endsAt }));
  return ok({ planCase: parsed.value, sessionInstants });
}

/** The date stays the workshop's own, so that it compares rightly with ship-by dates whatever the clock did. */
function sessionOnClock(session: ComingSession, clock: CaseClock, handMinutes: number): Session | null {
  const { date, mixing, dryingFactor } = session;
  const start = clock.timeOn(date, session.startsAt);
  const end = clock.timeOn(date, session.endsAt);
  return start === null || end === null ? null : { date, start, end, handMinutes, mixing, dryingFactor };
}

/**
 * Hand minutes of a session, less what the runs on the bench still need of it. How far a run is nobody has written
 * down, so the hands are taken to have worked on nothing else since the first of them was begun.
 */
function handMinutesFor(session: ComingSession, facts: PlanFacts, now: Date): number {
  const runs = facts.runsOnBench.filter((run) => run.sessionEndsAt.getTime() === session.endsAt.getTime());
  if (runs.length === 0) return session.handMinutes;
  const { mixMinutes, cleanMinutes } = facts.workshop;
  const formSeconds = new Map(
    facts.products.map(({ code, shape }) => [
      code,
      facts.shapes.find((known) => known.code === shape)?.formSeconds ?? 0,
    ]),
  );
  const needed = runs
    .map(({ bowls, pieces }) =>
      pieces.reduce(
        (minutes, { product, units }) => minutes + (units * (formSeconds.get(product) ?? 0)) / 60,
        bowls * mixMinutes + cleanMinutes,
      ),
    )
    .reduce((sum, minutes) => sum + minutes, 0);
  const begun = Math.min(...runs.map((run) => run.startedAt.getTime()));
  const hands = session.handMinutes / minutesBetween(session.startsAt, session.endsAt);
  const spent = Math.max(0, minutesBetween(new Date(begun), now)) * hands;
  return Math.max(0, Math.floor(session.handMinutes - Math.max(0, needed - spent)));
}

function workshopNumbers({ workshop }: PlanFacts) {
  const { trays, mixers, bowlMinutes, mixMinutes, cleanMinutes } = workshop;
  return {
    trays,
    mixers,
    bowlGrams: workshop.bowlMilligrams / 1000,
    minBowlGrams: workshop.minBowlMilligrams / 1000,
    bowlMinutes,
    mixMinutes,
    cleanMinutes,
  };
}

function shapeOfFacts(shape: ShapeFacts): Shape {
  return {
    id: shape.code,
    moldSets: shape.moldSets,
    driesIn: shape.driesIn,
    moldHours: shape.moldMinutes / 60,
    restHours: shape.restMinutes / 60,
    unitsPerTray: shape.unitsPerTray,
    grams: shape.pieceMilligrams / 1000,
    formMinutes: shape.formSeconds / 60,
    turnMinutes: shape.turnSeconds / 60,
    unmoldMinutes: shape.unmoldSeconds / 60,
    packMinutes: shape.packSeconds / 60,
  };
}

function productOfFacts({ code, blend, shape, lossBasisPoints }: PlanFacts["products"][number]): Product {
  const product = { id: code, blend, shape };
  return lossBasisPoints === 0 ? product : { ...product, lossShare: lossBasisPoints / 10_000 };
}

function orderOfFacts({ reference, ...order }: PlanFacts["orders"][number]): Order {
  return { id: reference, ...order };
}

/**
 * When a lot leaves its mold and when it may be packed. What is overdue is due now. Its rest begins when somebody is
 * there to unmold it, as for the pieces the plan forms itself; a later time that is known already stands.
 */
function dryingOfLot(
  lot: LotFacts,
  facts: PlanFacts,
  sessions: readonly ComingSession[],
  clock: CaseClock,
  now: Date,
): Drying {
  const lying = { product: lot.product, units: lot.units, trays: lot.trays, ...expectedLosses(lot, facts) };
  const earliest = nextWholeMinute(now);
  const readyDueAt = later(lot.readyDueAt, earliest);
  if (lot.state === "resting") return { ...lying, unmoldAt: null, packAt: clock.moment(readyDueAt) };
  const shape = shapeOfLot(lot, facts);
  const unmoldAt = later(
    lot.unmoldDueAt ?? plus(formedAt(lot, now), shape.moldMinutes * lot.dryingFactor),
    earliest,
  );
  const unmolding = sessions.find(({ startsAt }) => startsAt >= unmoldAt)?.startsAt ?? unmoldAt;
  const packAt = later(plus(unmolding, shape.restMinutes * lot.dryingFactor), readyDueAt);
  return { ...lying, unmoldAt: clock.moment(unmoldAt), packAt: clock.moment(packAt) };
}

/** Of a lot that is stopped nothing is counted on, though it lies on its molds and trays like any other. */
function expectedLosses(lot: LotFacts, facts: PlanFacts): Pick<Drying, "expectedLosses"> {
  const product = facts.products.find(({ code }) => code === lot.product);
  const losses = lot.stopped ? lot.units : lossesToCome(lot, product?.lossBasisPoints ?? 0);
  return losses === 0 ? {} : { expectedLosses: losses };
}

/** A lot still being mixed counts as formed at its session's end: the cautious choice, as for planned runs. */
function formedAt(lot: LotFacts, now: Date): Date {
  return later(lot.sessionEndsAt, now);
}

function shapeOfLot(lot: LotFacts, facts: PlanFacts): ShapeFacts {
  const product = facts.products.find(({ code }) => code === lot.product);
  const shape = facts.shapes.find(({ code }) => code === product?.shape);
  if (shape === undefined) throw new Error(`The facts of a plan leave out the shape of ${lot.product}`);
  return shape;
}

function later(one: Date | null, other: Date): Date {
  return one !== null && one > other ? one : other;
}

function plus(instant: Date, minutes: number): Date {
  // A millionth of a minute is floating-point noise, not drying time.
  return new Date(instant.getTime() + Math.ceil(minutes - 1e-6) * 60_000);
}
