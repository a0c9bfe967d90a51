import type { PlanCase, Shape } from "./case.ts";
import type { Decisions } from "./plan.ts";
import { horizonOf, type Milestones } from "./timing/horizon.ts";

/** Where pieces on the drying board come from. */
export type LotOrigin =
  | { readonly from: "run" /** Index into the plan's runs. */; readonly run: number }
  | { readonly from: "drying" /** Index into the case's drying list. */; readonly drying: number };

/** Pieces of one product and one origin, in one session. */
export interface LotPieces {
  readonly product: string;
  readonly units: number;
  readonly origin: LotOrigin;
  /** In a mold, or out of it and resting on a tray. Pieces of a shape that holds no mold count as in it until firm. */
  readonly stage: "in-mold" | "resting";
}

/** How much of a limit is in use in a session: by what dries already and by what the plan adds. */
export interface Load {
  readonly byDrying: number;
  readonly byPlan: number;
  /** Infinity where nothing limits. */
  readonly limit: number;
}

/** Hand minutes by kind of work. */
export interface Work {
  readonly mixing: number;
  readonly cleaning: number;
  readonly forming: number;
  readonly turning: number;
  readonly unmolding: number;
  readonly packing: number;
}

export interface SessionLoads {
  /** One entry a shape, in the case's order; pieces holding a mold. */
  readonly molds: readonly Load[];
  readonly trays: Load;
  readonly handMinutes: Load;
  readonly bowls: Load;
  /** What the session pays, drying pieces included. */
  readonly work: Work;
  /** One list a shape: what lies in molds and on trays. */
  readonly lots: readonly (readonly LotPieces[])[];
}

/** Pieces of a shape that may hold a mold at once: the last free half of a press is kept for turning. */
export function moldPlaces(shape: Pick<Shape, "driesIn" | "moldSets">): number {
  if (shape.driesIn === "none") return Number.POSITIVE_INFINITY;
  if (shape.driesIn === "whole") return shape.moldSets;
  return Math.max(0, 2 * shape.moldSets - 1);
}

/** Bowls that fit a session of `minutes` side by side and one after the other. */
export function bowlPlaces(mixers: number, minutes: number, bowlMinutes: number): number {
  if (mixers === 0) return 0;
  return mixers * (bowlMinutes === 0 ? Number.POSITIVE_INFINITY : Math.floor(minutes / bowlMinutes));
}

/** What a plan and the pieces already drying use in every session: the drying board, and what the limits are held to. */
export function planLoads(planCase: PlanCase, decisions: Pick<Decisions, "runs">): readonly SessionLoads[] {
  const horizon = horizonOf(planCase);
  const board = planCase.sessions.map(() => new Tally(planCase.shapes.length));
  const shapeIndex = new Map(planCase.shapes.map((shape, index) => [shape.id, index]));
  const indexByProduct = new Map(planCase.products.map(({ id, shape }) => [id, shapeIndex.get(shape)!]));

  const place = (
    lot: LotPieces & { readonly first: number; readonly trays: number },
    { unmold, pack }: Milestones,
  ) => {
    const index = indexByProduct.get(lot.product)!;
    const shape = planCase.shapes[index]!;
    const source = lot.origin.from === "drying" ? "byDrying" : "byPlan";
    for (let session = lot.first; session < (pack ?? board.length); session++) {
      const tally = board[session]!;
      const inMold = session < (unmold ?? board.length);
      tally.trays[source] += lot.trays;
      tally.lots[index]!.push({
        product: lot.product,
        units: lot.units,
        origin: lot.origin,
        stage: inMold ? "in-mold" : "resting",
      });
      if (inMold) tally.molds[index]![source] += shape.driesIn === "none" ? 0 : lot.units;
      if (inMold) tally.pay("turning", lot.units * shape.turnMinutes, source);
    }
    if (
      unmold !== null &&
      !(lot.origin.from === "drying" && planCase.drying[lot.origin.drying]!.unmoldAt === null)
    ) {
      board[unmold]!.pay("unmolding", lot.units * shape.unmoldMinutes, source);
    }
    if (pack !== null) board[pack]!.pay("packing", lot.units * shape.packMinutes, source);
  };

  planCase.drying.forEach((drying, index) => {
    const { product, units, trays } = drying;
    place(
      { product, units, trays, first: 0, stage: "in-mold", origin: { from: "drying", drying: index } },
      horizon.ofDrying(drying),
    );
  });
  decisions.runs.forEach((run, index) => {
    const tally = board[run.session]!;
    tally.bowls += run.bowls;
    tally.pay("mixing", run.bowls * planCase.mixMinutes, "byPlan");
    tally.pay("cleaning", planCase.cleanMinutes, "byPlan");
    for (const { product, units } of run.pieces) {
      const shape = planCase.shapes[indexByProduct.get(product)!]!;
      tally.pay("forming", units * shape.formMinutes, "byPlan");
      place(
        {
          product,
          units,
          trays: Math.ceil(units / shape.unitsPerTray),
          first: run.session,
          stage: "in-mold",
          origin: { from: "run", run: index },
        },
        horizon.ofForming(shape, run.session),
      );
    }
  });

  return board.map((tally, session) => ({
    molds: planCase.shapes.map((shape, index) => ({ ...tally.molds[index]!, limit: moldPlaces(shape) })),
    trays: { ...tally.trays, limit: planCase.trays },
    handMinutes: { ...tally.minutes, limit: planCase.sessions[session]!.handMinutes },
    bowls: {
      byDrying: 0,
      byPlan: tally.bowls,
      limit: bowlPlaces(planCase.mixers, horizon.sessions[session]!.length, planCase.bowlMinutes),
    },
    work: tally.work,
    lots: tally.lots,
  }));
}

/** Sums of one session while they are added up. */
class Tally {
  readonly molds: { byDrying: number; byPlan: number }[];
  readonly trays = { byDrying: 0, byPlan: 0 };
  readonly minutes = { byDrying: 0, byPlan: 0 };
  readonly work = { mixing: 0, cleaning: 0, forming: 0, turning: 0, unmolding: 0, packing: 0 };
  readonly lots: LotPieces[][];
  bowls = 0;

  constructor(shapes: number) {
    this.molds = Array.from({ length: shapes }, () => ({ byDrying: 0, byPlan: 0 }));
    this.lots = Array.from({ length: shapes }, () => []);
  }

  pay(kind: keyof Work, minutes: number, source: "byDrying" | "byPlan"): void {
    this.work[kind] += minutes;
    this.minutes[source] += minutes;
  }
}
