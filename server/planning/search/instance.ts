import type { PlanCase } from "../case.ts";
import { bowlPlaces, moldPlaces, planLoads } from "../loads.ts";
import { dayOf, horizonOf } from "../timing/horizon.ts";

/** How an order counts lateness, as a number the search can switch on. */
export const completeTerms = 0;
export const asReadyTerms = 1;
export const marketTerms = 2;

/** Days of lateness that a unit counts which a market does not get. */
export const marketDays = 7;

/** Hand minutes are counted in whole millionths, so that sums are exact and do not depend on their order. */
export const ticksPerMinute = 1_000_000;

/** Stands for "no limit" in a whole-number room. */
export const unlimited = 1e9;

/**
 * A case compiled for the search, everything it reads: indices for ids, typed arrays for lists, whole numbers for minutes
 * and grams, and for every shape and session when a piece formed there leaves its mold and is packed. Two-dimensional
 * arrays are flat, the session running fastest: `[shape * sessions + session]`.
 *
 * A class and not an object literal, so that code compiled for the first case a process plans is not thrown away with the
 * second (README, "Decisions").
 */
export class Instance {
  readonly sessions: number;
  readonly shapes: number;
  readonly blends: number;
  readonly products: number;
  readonly orders: number;
  readonly lines: number;

  /** Bowls a session can take beyond nothing; 0 without mixing. */
  readonly bowlRoom: Int32Array;
  /** Tray, hand (in ticks) and mold room that what is drying already leaves. */
  readonly trayRoom: Int32Array;
  readonly handRoom: Float64Array;
  readonly moldRoom: Int32Array;

  readonly bowlGrams: number;
  readonly minBowlGrams: number;
  readonly mixTicks: number;
  readonly cleanTicks: number;

  /** By shape and session: sessions of unmolding and packing, -1 where a piece can't be formed; and the packing day. */
  readonly unmold: Int32Array;
  readonly pack: Int32Array;
  readonly readyDay: Int32Array;
  /** By shape: work on one piece. */
  readonly formTicks: Float64Array;
  readonly turnTicks: Float64Array;
  readonly unmoldTicks: Float64Array;
  readonly packTicks: Float64Array;
  /** By shape and session: all the work on one piece formed there. */
  readonly pieceTicks: Float64Array;
  readonly holdsMold: Uint8Array;
  readonly unitsPerTray: Int32Array;

  readonly blendOf: Int32Array;
  readonly shapeOf: Int32Array;
  /** By product: weight of a piece in whole parts of a gram, like `bowlGrams`. */
  readonly weightOf: Float64Array;
  /** Products of blend `b` are `productsOfBlend[firstProduct[b]] .. [firstProduct[b + 1] - 1]`. */
  readonly productsOfBlend: Int32Array;
  readonly firstProduct: Int32Array;

  /** Ready-made supplies, stock and drying, in the order of products: `firstReady[p] .. firstReady[p + 1] - 1`. */
  readonly readyUnits: Int32Array;
  readonly readyDays: Int32Array;
  /** Index into the case's drying list; -1 for stock. */
  readonly readyDrying: Int32Array;
  readonly firstReady: Int32Array;

  readonly orderTerms: Uint8Array;
  readonly orderDue: Int32Array;
  readonly orderWeight: Float64Array;
  readonly orderUnits: Int32Array;
  /** Days a unit never served counts late. */
  readonly orderNever: Int32Array;
  readonly firstLine: Int32Array;
  readonly lineOrder: Int32Array;
  readonly lineProduct: Int32Array;
  readonly lineUnits: Int32Array;

  readonly firstDay: number;
  /** Day of each session. */
  readonly sessionDay: Int32Array;

  constructor(planCase: PlanCase) {
    const horizon = horizonOf(planCase);
    const loads = planLoads(planCase, { runs: [] });
    const sessions = planCase.sessions.length;
    const shapes = planCase.shapes.length;
    const gramScale = wholeScale([
      planCase.bowlGrams,
      planCase.minBowlGrams,
      ...planCase.shapes.map((shape) => shape.grams),
    ]);
    const blendIndex = new Map(planCase.blends.map((blend, index) => [blend.id, index]));
    const shapeIndex = new Map(planCase.shapes.map((shape, index) => [shape.id, index]));
    const productIndex = new Map(planCase.products.map((product, index) => [product.id, index]));
    const lines = planCase.orders.flatMap((order, index) =>
      order.lines.map((line) => ({ ...line, order: index })),
    );

    const formTicks = Float64Array.from(planCase.shapes, (shape) => ticks(shape.formMinutes));
    const turnTicks = Float64Array.from(planCase.shapes, (shape) => ticks(shape.turnMinutes));
    const unmoldTicks = Float64Array.from(planCase.shapes, (shape) => ticks(shape.unmoldMinutes));
    const packTicks = Float64Array.from(planCase.shapes, (shape) => ticks(shape.packMinutes));
    const unmold = new Int32Array(shapes * sessions).fill(-1);
    const pack = new Int32Array(shapes * sessions).fill(-1);
    const readyDay = new Int32Array(shapes * sessions);
    const pieceTicks = new Float64Array(shapes * sessions);
    const moldRoom = new Int32Array(shapes * sessions);
    planCase.shapes.forEach((shape, index) => {
      for (let session = 0; session < sessions; session++) {
        const cell = index * sessions + session;
        moldRoom[cell] = Math.min(
          unlimited,
          Math.max(0, moldPlaces(shape) - loads[session]!.molds[index]!.byDrying),
        );
        const milestones = horizon.ofForming(shape, session);
        if (!planCase.sessions[session]!.mixing || milestones.unmold === null || milestones.pack === null)
          continue;
        unmold[cell] = milestones.unmold;
        pack[cell] = milestones.pack;
        readyDay[cell] = horizon.sessions[milestones.pack]!.day;
        pieceTicks[cell] =
          formTicks[index]! +
          turnTicks[index]! * (milestones.unmold - session) +
          unmoldTicks[index]! +
          packTicks[index]!;
      }
    });

    const ready = readySupplies(planCase, productIndex);
    const productsByBlend = planCase.blends.map((blend) =>
      planCase.products.flatMap((product, index) => (product.blend === blend.id ? [index] : [])),
    );

    this.sessions = sessions;
    this.shapes = shapes;
    this.blends = planCase.blends.length;
    this.products = planCase.products.length;
    this.orders = planCase.orders.length;
    this.lines = lines.length;
    this.bowlRoom = Int32Array.from(planCase.sessions, (session, index) =>
      session.mixing
        ? Math.min(
            unlimited,
            bowlPlaces(planCase.mixers, horizon.sessions[index]!.length, planCase.bowlMinutes),
          )
        : 0,
    );
    this.trayRoom = Int32Array.from(loads, ({ trays }) => Math.max(0, trays.limit - trays.byDrying));
    this.handRoom = Float64Array.from(loads, ({ handMinutes }) =>
      Math.max(0, Math.floor((handMinutes.limit - handMinutes.byDrying) * ticksPerMinute + 1e-3)),
    );
    this.moldRoom = moldRoom;
    this.bowlGrams = Math.round(planCase.bowlGrams * gramScale);
    this.minBowlGrams = Math.round(planCase.minBowlGrams * gramScale);
    this.mixTicks = ticks(planCase.mixMinutes);
    this.cleanTicks = ticks(planCase.cleanMinutes);
    this.unmold = unmold;
    this.pack = pack;
    this.readyDay = readyDay;
    this.formTicks = formTicks;
    this.turnTicks = turnTicks;
    this.unmoldTicks = unmoldTicks;
    this.packTicks = packTicks;
    this.pieceTicks = pieceTicks;
    this.holdsMold = Uint8Array.from(planCase.shapes, (shape) => (shape.driesIn === "none" ? 0 : 1));
    this.unitsPerTray = Int32Array.from(planCase.shapes, (shape) => shape.unitsPerTray);
    this.blendOf = Int32Array.from(planCase.products, (product) => blendIndex.get(product.blend)!);
    this.shapeOf = Int32Array.from(planCase.products, (product) => shapeIndex.get(product.shape)!);
    this.weightOf = Float64Array.from(planCase.products, (product) =>
      Math.round(planCase.shapes[shapeIndex.get(product.shape)!]!.grams * gramScale),
    );
    this.productsOfBlend = Int32Array.from(productsByBlend.flat());
    this.firstProduct = offsets(productsByBlend.map((products) => products.length));
    this.readyUnits = Int32Array.from(ready, (supply) => supply.units);
    this.readyDays = Int32Array.from(ready, (supply) => supply.day);
    this.readyDrying = Int32Array.from(ready, (supply) => supply.drying);
    this.firstReady = offsets(
      planCase.products.map((_, product) => ready.filter((supply) => supply.product === product).length),
    );
    this.orderTerms = Uint8Array.from(planCase.orders, ({ terms }) =>
      terms === "complete" ? completeTerms : terms === "as-ready" ? asReadyTerms : marketTerms,
    );
    this.orderDue = Int32Array.from(planCase.orders, (order) => dayOf(order.shipBy));
    this.orderWeight = Float64Array.from(planCase.orders, (order) => order.weight);
    this.orderUnits = Int32Array.from(planCase.orders, (order) =>
      order.lines.reduce((sum, line) => sum + line.units, 0),
    );
    this.orderNever = Int32Array.from(planCase.orders, (order) =>
      horizon.neverServedDays(dayOf(order.shipBy)),
    );
    this.firstLine = offsets(planCase.orders.map((order) => order.lines.length));
    this.lineOrder = Int32Array.from(lines, (line) => line.order);
    this.lineProduct = Int32Array.from(lines, (line) => productIndex.get(line.product)!);
    this.lineUnits = Int32Array.from(lines, (line) => line.units);
    this.firstDay = horizon.firstDay;
    this.sessionDay = Int32Array.from(horizon.sessions, (session) => session.day);
  }
}

/** Stock counts as on time for any order, so its day is before every day there is. */
export const stockDay = -unlimited;

interface ReadySupply {
  readonly product: number;
  readonly units: number;
  readonly day: number;
  readonly drying: number;
}

function readySupplies(
  planCase: PlanCase,
  productIndex: ReadonlyMap<string, number>,
): readonly ReadySupply[] {
  const horizon = horizonOf(planCase);
  const stock = planCase.stock.map(({ product, units }) => ({
    product: productIndex.get(product)!,
    units,
    day: stockDay,
    drying: -1,
  }));
  const drying = planCase.drying.flatMap((entry, index) => {
    const { pack } = horizon.ofDrying(entry);
    const day = pack === null ? null : horizon.sessions[pack]!.day;
    return day === null
      ? []
      : [{ product: productIndex.get(entry.product)!, units: entry.units, day, drying: index }];
  });
  return [...stock, ...drying].sort((a, b) => a.product - b.product || a.day - b.day || a.drying - b.drying);
}

function offsets(counts: readonly number[]): Int32Array {
  const first = new Int32Array(counts.length + 1);
  counts.forEach((count, index) => {
    first[index + 1] = first[index]! + count;
  });
  return first;
}

/** Work is rounded up to whole ticks where a case gives more than six decimals, never down. */
function ticks(minutes: number): number {
  return Math.ceil(minutes * ticksPerMinute - 1e-3);
}

/** Smallest power of ten, up to a million, that makes all values whole; fewer decimals where sums would not stay exact. */
function wholeScale(values: readonly number[]): number {
  const largest = Math.max(1, ...values);
  let scale = 1;
  while (
    scale < 1_000_000 &&
    largest * scale < 1e9 &&
    values.some((value) => Math.abs(value * scale - Math.round(value * scale)) > 1e-9 * scale)
  ) {
    scale *= 10;
  }
  return scale;
}
