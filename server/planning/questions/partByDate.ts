import type { Order, PlanCase } from "../case.ts";
import { heldBy } from "../heldBy.ts";
import type { Decisions, Plan, Supply } from "../plan.ts";
import { planCase as findPlan } from "../planCase.ts";
import type { Resource } from "../resource.ts";
import { afterIterations, type Stop } from "../stop.ts";
import { dayOf, horizonOf } from "../timing/horizon.ts";
import { acceptedWeight, earliestDate } from "./earliestDate.ts";
import { fillIn } from "./fillIn.ts";
import type { Shares } from "./shares.ts";
import { orderedUnits, type SafeDate, type Standing } from "./standing.ts";

/** What can be kept of a wish that can't be kept in full. */
export interface PartPromised {
  readonly wished: string;
  readonly piecesByWished: number;
  /** Earliest date found for all the rest when so many pieces are there by the wished date; null where none will do. */
  readonly restBy: string | null;
  /** What is used up that keeps the rest from the wished date; null where nothing is. */
  readonly inTheWay: Resource | null;
}

/** Days a market piece counts that is not there. */
const marketDays = 7;
/** Share of the whole search up to which pieces by the wished date are looked for. */
const piecesShare = 0.85;

/**
 * What of a new order could be there by the wished date, when the rest, and what keeps the rest from it; and the date
 * on which those plans have all of it ready, if they do.
 */
export function partByDate(
  standing: Standing,
  newOrder: Order,
  wished: string,
  seed: number,
  shares: Shares,
): PartPromised & { readonly safe: SafeDate | null } {
  const part: Order = { ...newOrder, terms: "market", shipBy: wished, weight: 1 };
  const most = mostPieces(standing, part, seed, shares.upTo(piecesShare));
  const lines = linesByWished(part, most);
  const piecesByWished = orderedUnits({ lines: lines.there });
  const safe = standing.safeDate(newOrder, most);
  if (lines.missing.length === 0)
    return { wished, piecesByWished, restBy: safe?.date ?? null, inTheWay: null, safe };
  const inTheWay = wayOf(standing, part, most, lines.missing);
  const rest: Order = { ...part, id: unusedId(standing.planCase, part), lines: lines.missing };
  const accepted =
    piecesByWished === 0 ? standing : standing.accepting({ ...part, lines: lines.there }, most);
  const found = earliestDate(accepted, rest, seed, shares.upTo(1), () => {});
  return {
    wished,
    piecesByWished,
    restBy: found.safe?.date ?? null,
    inTheWay,
    safe: found.safe === null ? null : standing.safeDate(newOrder, asOne(found.safe.plan, rest.id, part.id)),
  };
}

/** The plan with most pieces of the order by its ship-by that makes nobody wait. */
function mostPieces(standing: Standing, part: Order, seed: number, stop: Stop): Plan {
  let best = standing.finish(part, standing.plan);
  const missing = (plan: Plan) => plan.orders.at(-1)?.unitsShort ?? 0;
  const hear = (plan: Plan) => {
    if (missing(plan) >= missing(best)) return;
    const finished = standing.finish(part, plan);
    if (standing.isKeptBy(finished)) best = finished;
  };
  const alone = findPlan(
    { ...standing.planCase, orders: [part] },
    { seed, prove: false, stop: afterIterations(0) },
  );
  const leastMissing = Math.ceil(alone.bound / marketDays - 1e-6);
  const question = standing.with(part, marketDays * acceptedWeight);
  const filled = fillIn(question, standing.plan, seed);
  if (filled !== null) hear(filled);
  const until: Stop = { progress: (done) => (missing(best) <= leastMissing ? 1 : stop.progress(done)) };
  findPlan(question, { seed, start: best, prove: false, stop: until, onBetter: hear });
  return best;
}

/** What a plan has there of an order and what it leaves unserved, line by line. */
function linesByWished(
  order: Order,
  plan: Plan,
): { readonly there: Order["lines"]; readonly missing: Order["lines"] } {
  const lines = order.lines.map(({ product, units }) => {
    const isServed = (supply: Supply) => supply.order === order.id && supply.product === product;
    const there = plan.supplies.reduce((sum, supply) => sum + (isServed(supply) ? supply.units : 0), 0);
    return { product, there, missing: units - there };
  });
  const some = (which: "there" | "missing") =>
    lines.filter((line) => line[which] > 0).map((line) => ({ product: line.product, units: line[which] }));
  return { there: some("there"), missing: some("missing") };
}

/** Longer than every other id, so that it is none of them. */
function unusedId(planCase: PlanCase, order: Order): string {
  const ids = [...planCase.orders.map(({ id }) => id), order.id];
  return `${ids.reduce((longest, id) => (id.length > longest.length ? id : longest))}, the rest`;
}

/** A plan's decisions with what it gives to one order given to another. */
function asOne(plan: Plan, from: string, to: string): Decisions {
  const supplies = plan.supplies.map((supply) => (supply.order === from ? { ...supply, order: to } : supply));
  return { runs: plan.runs, supplies };
}

/** What is used up where the most numerous of the missing pieces would have to be formed to be there in time. */
function wayOf(standing: Standing, part: Order, plan: Plan, missing: Order["lines"]): Resource | null {
  const most = missing.reduce((a, b) => (b.units > a.units ? b : a));
  const product = standing.planCase.products.find(({ id }) => id === most.product)!;
  const question = { ...standing.planCase, orders: [...standing.planCase.orders, part] };
  const { lastDay } = horizonOf(standing.planCase);
  const held = (before: number) => heldBy(question, plan, product, before)?.resource;
  return held(dayOf(part.shipBy) + 1) ?? held(lastDay + 1) ?? null;
}
