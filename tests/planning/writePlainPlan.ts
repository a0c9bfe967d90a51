import type { JsonPlan } from "./independentChecker.ts";
import {
  bowlsFor,
  daysLate,
  type Forming,
  type PlainCase,
  type PlainOrder,
  type Source,
} from "./plainReading.ts";

/** Units of a source given to an order, counted by its place in the case. */
export interface Handed {
  readonly order: number;
  readonly source: Source;
  readonly product: string;
  readonly units: number;
}

/** The plan that forms these pieces and hands them out so, with the figures its solver found. */
export function writePlainPlan(
  plain: PlainCase,
  pieces: ReadonlyMap<Forming, number>,
  handed: readonly Handed[],
  figures: Pick<JsonPlan, "cost" | "handMinutes" | "bound">,
): JsonPlan {
  return {
    cost: figures.cost,
    handMinutes: figures.handMinutes,
    bound: figures.bound,
    runs: runsOf(plain, pieces),
    supplies: handed.map(({ order, source, product, units }) => ({
      order: plain.orders[order]?.order.id ?? "",
      product,
      units,
      from: source.from,
      ...(source.from === "run" ? { session: source.forming.session } : {}),
      ...(source.from === "drying" ? { drying: source.drying } : {}),
    })),
    orders: plain.orders.map((order, at) =>
      outcomeOf(
        plain,
        order,
        handed.filter((each) => each.order === at),
      ),
    ),
  };
}

function runsOf({ question, formings }: PlainCase, pieces: ReadonlyMap<Forming, number>): JsonPlan["runs"] {
  return question.sessions.flatMap((_, session) =>
    question.blends.flatMap(({ id: blend }) => {
      const formed = formings
        .filter((each) => each.session === session && each.blend === blend)
        .map((forming) => ({ forming, units: pieces.get(forming) ?? 0 }))
        .filter(({ units }) => units > 0);
      if (formed.length === 0) return [];
      const grams = formed.reduce((sum, { forming, units }) => sum + units * forming.shape.grams, 0);
      const bowls = bowlsFor(question, grams);
      if (bowls === null) throw new Error(`no number of bowls takes ${grams} g`);
      return {
        session,
        blend,
        bowls,
        pieces: formed.map(({ forming, units }) => ({
          product: question.products[forming.product]?.id ?? "",
          units,
        })),
      };
    }),
  );
}

function outcomeOf(
  { question }: PlainCase,
  plain: PlainOrder,
  handed: readonly Handed[],
): JsonPlan["orders"][number] {
  const { id } = plain.order;
  const served = handed.reduce((sum, { units }) => sum + units, 0);
  if (served < plain.units) {
    return { id, readyOn: null, daysLate: plain.neverDays, unitsShort: plain.units - served };
  }
  const first = question.sessions[0]?.date ?? "";
  const lastDay = Math.max(Date.parse(first) / 86_400_000, ...handed.map(({ source }) => source.day));
  const readyOn = new Date(lastDay * 86_400_000).toISOString().slice(0, 10);
  return {
    id,
    readyOn,
    daysLate: Math.max(0, ...handed.map(({ source }) => daysLate(plain, source.day))),
    unitsShort: 0,
  };
}
