import { DateTime } from "luxon";
import { planLoads, type Work } from "../../server/planning/loads.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { type BuiltCase, buildCase } from "../../server/plans/buildCase.ts";
import type { LotFacts, OrderFacts, PlanFacts, ShapeFacts } from "../../server/plans/planFacts.ts";
import type { LyingFacts, RunFacts, TimetableFacts } from "../../server/timetable/facts.ts";
import { type SessionTimetable, timetable } from "../../server/timetable/timetable.ts";
import { generator } from "../planning/generateCase.ts";

/** A drawn workshop, planned and laid out. */
export interface DrawnDays {
  readonly seed: number;
  readonly now: Date;
  readonly facts: TimetableFacts;
  readonly laid: readonly SessionTimetable[];
  /** What the planner counts for each session. */
  readonly work: readonly Work[];
}

/** Mornings on which clocks change, in their zones (IANA time zone database), and one on which none does. */
const MORNINGS: readonly [Morning, ...Morning[]] = [
  ["Europe/Lisbon", "2027-03-28"],
  ["Europe/Lisbon", "2027-10-31"],
  ["America/New_York", "2027-03-14"],
  ["America/New_York", "2027-11-07"],
  ["Australia/Lord_Howe", "2027-04-04"],
  ["Australia/Lord_Howe", "2027-10-03"],
  ["UTC", "2027-03-01"],
];

type Morning = readonly [timeZone: string, isoDate: string];

/**
 * A workshop drawn by a seed, with sessions in the hours in which clocks change, what lies there already, and orders;
 * planned through the bridge that real plans go through. Null where the draw leaves nothing to plan.
 */
export function drawDays(seed: number): DrawnDays | null {
  const { facts, now } = drawFacts(new Draw(seed));
  const built = buildCase(facts, now);
  if (!built.ok) return null;
  const plan = planCase(built.value.planCase, { seed, stop: afterIterations(30), prove: false });
  if (plan.runs.length === 0) return null;
  const shown = asRows(facts, built.value, plan);
  return {
    seed,
    now,
    facts: shown,
    laid: timetable(shown, now),
    work: planLoads(built.value.planCase, plan).map(({ work }) => work),
  };
}

class Draw {
  readonly #chance: () => number;

  constructor(seed: number) {
    this.#chance = generator(seed);
  }

  below(count: number): number {
    return Math.floor(this.#chance() * count);
  }

  of<Item>(items: readonly [Item, ...Item[]]): Item {
    return items[this.below(items.length)] ?? items[0];
  }

  times<Item>(count: number, make: (at: number) => Item): readonly Item[] {
    return Array.from({ length: count }, (_, at) => make(at));
  }
}

function drawFacts(draw: Draw): { readonly facts: PlanFacts; readonly now: Date } {
  const [timeZone, change] = draw.of(MORNINGS);
  // The evening before the change, before any session of the first day.
  const first = DateTime.fromISO(change, { zone: timeZone }).minus({ days: 1 });
  const now = first.set({ hour: 0, minute: 30 }).toJSDate();
  const shapes = draw.times(1 + draw.below(3), (at) => drawShape(draw, at));
  const blends = draw.times(1 + draw.below(5), (at) => ({
    code: `blend-${at}`,
    shade: draw.below(21) / 20,
  }));
  const products = blends.flatMap((blend) =>
    shapes.map((shape) => ({
      code: `${blend.code}/${shape.code}`,
      blend: blend.code,
      shape: shape.code,
      lossBasisPoints: 0,
    })),
  );
  const product = () => products[draw.below(products.length)]?.code ?? "";
  const orders = draw.times(1 + draw.below(6), (at): OrderFacts => {
    const wanted = new Set(draw.times(1 + draw.below(3), product));
    return {
      reference: `W-${at + 1}`,
      terms: draw.of(["complete", "as-ready", "market"]),
      shipBy: first.plus({ days: draw.below(5) }).toISODate() ?? "",
      weight: 1,
      lines: [...wanted].map((code) => ({ product: code, units: 1 + draw.below(40) })),
    };
  });
  const bowlMilligrams = draw.of([900_000, 2_600_000, 4_500_000]);
  return {
    now,
    facts: {
      workshop: {
        name: `Drawn ${timeZone}`,
        trays: draw.of([2, 8, 30]),
        mixers: draw.of([1, 1, 2, 3]),
        bowlMilligrams,
        minBowlMilligrams: Math.round(bowlMilligrams * draw.of([0, 0.35])),
        bowlMinutes: draw.of([20, 30, 45]),
        mixMinutes: draw.of([0, 4, 16.5, 20, 50]),
        cleanMinutes: draw.of([0, 8, 12.5]),
      },
      calendar: { timeZone, horizonDays: 5, week: drawWeek(draw), exceptions: [] },
      shapes,
      blends,
      products,
      stock: [],
      lots: draw.times(draw.below(4), (at) => drawLot(draw, at, product(), products, shapes, now)),
      runsOnBench: [],
      orders,
    },
  };
}

function drawWeek(draw: Draw): PlanFacts["calendar"]["week"] {
  // From one in the morning: before, over and after every change of clocks.
  const early = { startsMinute: 60, endsMinute: 300 };
  const morning = { startsMinute: 540, endsMinute: 780 };
  const evening = { startsMinute: 840, endsMinute: draw.of([1050, 1320]) };
  return draw
    .times(7, (at) => at + 1)
    .flatMap((weekday) =>
      [early, morning, evening]
        .filter((times) => (times === early ? weekday >= 6 : true) && draw.below(4) > 0)
        .map((times) => ({
          ...{ weekday, ...times, mixing: draw.below(5) > 0 },
          handMinutes: draw.of([0, 60, 200, 240, 300, 480, 700]),
        })),
    );
}

function drawShape(draw: Draw, at: number): ShapeFacts {
  return {
    code: `shape-${at}`,
    moldSets: draw.of([4, 20, 60]),
    driesIn: draw.of(["half", "whole", "none"]),
    moldMinutes: draw.of([0, 240, 960, 1170]),
    restMinutes: draw.of([0, 30, 480, 1380]),
    unitsPerTray: draw.of([6, 15, 20]),
    pieceMilligrams: draw.of([60_000, 118_000, 240_000]),
    formSeconds: draw.of([20, 48, 61.25]),
    turnSeconds: draw.of([0, 3.6, 6]),
    unmoldSeconds: draw.of([0, 9, 15]),
    packSeconds: draw.of([0, 30, 66.1]),
  };
}

function drawLot(
  draw: Draw,
  at: number,
  product: string,
  products: PlanFacts["products"],
  shapes: readonly ShapeFacts[],
  now: Date,
): LotFacts {
  const shape = shapes.find(({ code }) => code === products.find((one) => one.code === product)?.shape);
  const unmoldDueAt = new Date(now.getTime() + (draw.below(48) - 12) * 3_600_000);
  const units = 1 + draw.below(30);
  return {
    lotId: 900 + at,
    product,
    state: draw.of(["drying", "drying", "resting"]),
    units,
    pressed: units,
    stopped: false,
    trays: 1,
    dryingFactor: 1,
    sessionEndsAt: null,
    unmoldDueAt,
    readyDueAt: new Date(unmoldDueAt.getTime() + (shape?.restMinutes ?? 0) * 60_000),
  };
}

/** What accepting the plan writes down, as the timetable reads it. */
function asRows(facts: PlanFacts, built: BuiltCase, plan: Plan): TimetableFacts {
  const shapeIds = new Map(facts.shapes.map(({ code }, at) => [code, at + 1]));
  const shapeOf = (product: string) =>
    shapeIds.get(facts.products.find(({ code }) => code === product)?.shape ?? "") ?? 0;
  const { mixers, bowlMinutes, mixMinutes, cleanMinutes } = facts.workshop;
  return {
    workshop: {
      ...{ mixers, bowlMinutes, mixMinutes, cleanMinutes },
      firstTurnMinutes: 270,
      everyTurnMinutes: 180,
    },
    sessions: built.sessionInstants.map((instants, at) => ({
      ...instants,
      handMinutes: built.planCase.sessions[at]?.handMinutes ?? 0,
    })),
    runs: plan.runs.map((run, at): RunFacts => {
      const instants = built.sessionInstants[run.session];
      if (instants === undefined) throw new Error(`The plan has no session ${run.session}`);
      const shade = facts.blends.find(({ code }) => code === run.blend)?.shade ?? 0;
      return {
        runId: at + 1,
        sessionStartsAt: instants.startsAt,
        sessionEndsAt: instants.endsAt,
        startedAt: null,
        dryingFactor: 1,
        shade,
        scents: [Number(run.blend.at(-1)) % 2],
        bowls: run.bowls,
        begun: [],
        lots: run.pieces.map(({ product, units }, piece) => ({
          lotId: (at + 1) * 10 + piece,
          shapeId: shapeOf(product),
          units,
          isPressed: false,
        })),
      };
    }),
    lying: facts.lots.flatMap((lot): readonly LyingFacts[] => {
      const { lotId, units, unmoldDueAt, readyDueAt, state } = lot;
      if (state === "mixing" || unmoldDueAt === null || readyDueAt === null) return [];
      const formedAt = new Date(unmoldDueAt.getTime() - 16 * 3_600_000);
      const lying = { lotId, shapeId: shapeOf(lot.product), units, state, formedAt, turnedAt: null };
      return [{ ...lying, unmoldDueAt, readyDueAt }];
    }),
    shapes: facts.shapes.map((shape, at) => ({ ...shape, shapeId: at + 1 })),
  };
}
