import { ok, type Result, refuse } from "../basics/result.ts";
import {
  type Blend,
  type CaseMistake,
  caseLimits,
  type Drying,
  type Order,
  type OrderLine,
  type PlanCase,
  type Product,
  type Session,
  type Shape,
  type Stock,
} from "./case.ts";
import { JsonReader } from "./jsonReader.ts";
import { dayNumber, minuteOfDay, minutesPerDay, momentMinutes } from "./timing/clock.ts";

/**
 * Reads a case from parsed JSON, filling in what may be left out. Finds every mistake, not only the first; keys it does
 * not know are ignored. Sizes beyond `caseLimits` are mistakes too.
 */
export function parseCase(json: unknown): Result<PlanCase, readonly CaseMistake[]> {
  const mistakes: CaseMistake[] = [];
  const root = new JsonReader(json, "$", mistakes);
  if (!root.isObject()) return refuse(mistakes);

  const shapes = root.field("shapes").list(caseLimits.products, readShape);
  const blends = root.field("blends").list(caseLimits.products, readBlend);
  refuseRepeats(root.field("shapes"), shapes);
  refuseRepeats(root.field("blends"), blends);
  const shapeIds = idsOf(shapes);
  const blendIds = idsOf(blends);
  const products = root
    .field("products")
    .list(caseLimits.products, (reader) => readProduct(reader, blendIds, shapeIds));
  refuseRepeats(root.field("products"), products);
  const productIds = idsOf(products);
  const orders = root
    .field("orders")
    .list(caseLimits.orders, (reader) => readOrder(reader, productIds, reader.field("shipBy").date()));
  refuseRepeats(root.field("orders"), orders);
  refuseTooManyPieces(root, orders);
  const stock = root
    .field("stock")
    .optionalList(caseLimits.products, (reader) => readUnits(reader, productIds));
  refuseTwiceTheSameProduct(root.field("stock"), stock);
  const bowlGrams = root.field("bowlGrams").positive();
  const minBowlGrams = root.field("minBowlGrams").amount();
  if (minBowlGrams > bowlGrams) {
    root.field("minBowlGrams").mistake(`is ${minBowlGrams}, more than bowlGrams, ${bowlGrams}`);
  }

  const sessions = readSessions(root.field("sessions"));
  refuseTooManyPairs(root, orders, sessions);

  const planCase: PlanCase = {
    name: root.field("name").text(),
    sessions,
    mixers: root.field("mixers").count(0),
    bowlGrams,
    minBowlGrams,
    bowlMinutes: root.field("bowlMinutes").amount(),
    mixMinutes: root.field("mixMinutes").amount(),
    cleanMinutes: root.field("cleanMinutes").amount(),
    trays: root.field("trays").count(0),
    shapes,
    blends,
    products,
    stock,
    drying: root
      .field("drying")
      .optionalList(caseLimits.dryingEntries, (reader) => readDrying(reader, productIds)),
    orders,
  };
  return mistakes.length === 0 ? ok(planCase) : refuse(mistakes);
}

/** An order not yet taken, and the ship-by it asks for, if any. */
export interface NewOrder {
  readonly order: Order;
  readonly wished: string | null;
}

/** Reads one order for a case already parsed; `shipBy` may be left out and is then null. */
export function parseNewOrder(json: unknown, planCase: PlanCase): Result<NewOrder, readonly CaseMistake[]> {
  const mistakes: CaseMistake[] = [];
  const root = new JsonReader(json, "$", mistakes);
  if (!root.isObject()) return refuse(mistakes);
  const wished = root.field("shipBy").isLeftOut() ? null : root.field("shipBy").date();
  const order = readOrder(root, idsOf(planCase.products), wished ?? lastDate(planCase));
  if (planCase.orders.some((other) => other.id === order.id)) {
    root.field("id").mistake(`"${order.id}" is already an order of the case`);
  }
  refuseTooManyPieces(root, [...planCase.orders, order]);
  return mistakes.length === 0 ? ok({ order, wished }) : refuse(mistakes);
}

function readSessions(reader: JsonReader): readonly Session[] {
  const sessions = reader.list(caseLimits.sessions, readSession);
  if (sessions.length === 0 && reader.isList()) reader.mistake("needs at least one session");
  let previousEnd: number | null = null;
  sessions.forEach((session, index) => {
    const day = dayNumber(session.date);
    const start = minuteOfDay(session.start);
    const end = minuteOfDay(session.end);
    if (day === null || start === null || end === null) return;
    if (end < start) {
      reader
        .item(index)
        .field("end")
        .mistake(`${session.end} is before the session's start, ${session.start}`);
    }
    if (previousEnd !== null && day * minutesPerDay + start < previousEnd) {
      reader.item(index).mistake("starts before the session before it has ended");
    }
    previousEnd = day * minutesPerDay + end;
  });
  return sessions;
}

function readSession(reader: JsonReader): Session {
  return {
    date: reader.field("date").date(),
    start: reader.field("start").matching(isTime, "a clock time HH:MM"),
    end: reader.field("end").matching(isTime, "a clock time HH:MM, at most 24:00"),
    handMinutes: reader.field("handMinutes").amount(),
    mixing: reader.field("mixing").optionalFlag(true),
    dryingFactor: reader.field("dryingFactor").optionalAmount(1),
  };
}

function readShape(reader: JsonReader): Shape {
  return {
    id: reader.field("id").text(),
    moldSets: reader.field("moldSets").count(0),
    driesIn: reader.field("driesIn").oneOf(["half", "whole", "none"]),
    moldHours: reader.field("moldHours").amount(),
    restHours: reader.field("restHours").amount(),
    unitsPerTray: reader.field("unitsPerTray").count(1),
    grams: reader.field("grams").amount(),
    formMinutes: reader.field("formMinutes").amount(),
    turnMinutes: reader.field("turnMinutes").amount(),
    unmoldMinutes: reader.field("unmoldMinutes").amount(),
    packMinutes: reader.field("packMinutes").amount(),
  };
}

function readBlend(reader: JsonReader): Blend {
  const shade = reader.field("shade").amount();
  if (shade > 1) reader.field("shade").mistake(`is ${shade}; a shade runs from 0, lightest, to 1, darkest`);
  return { id: reader.field("id").text(), shade };
}

function readProduct(reader: JsonReader, blends: ReadonlySet<string>, shapes: ReadonlySet<string>): Product {
  return {
    id: reader.field("id").text(),
    blend: reader.field("blend").idAmong(blends, "blend"),
    shape: reader.field("shape").idAmong(shapes, "shape"),
    ...readIfThere(reader, "lossShare", readLossShare),
  };
}

function readLossShare(reader: JsonReader): number {
  const share = reader.amount();
  if (share >= 1) reader.mistake(`is ${share}; what is lost is less than the whole, 1`);
  return share;
}

function readIfThere<Name extends string>(
  reader: JsonReader,
  name: Name,
  read: (field: JsonReader) => number,
): { readonly [name in Name]?: number } {
  const field = reader.field(name);
  return field.isLeftOut() ? {} : ({ [name]: read(field) } as { readonly [name in Name]: number });
}

function readUnits(reader: JsonReader, products: ReadonlySet<string>): Stock & OrderLine {
  return {
    product: reader.field("product").idAmong(products, "product"),
    units: reader.field("units").count(1),
  };
}

function readDrying(reader: JsonReader, products: ReadonlySet<string>): Drying {
  const isMoment = (text: string) => momentMinutes(text) !== null;
  return {
    ...readUnits(reader, products),
    trays: reader.field("trays").count(0),
    unmoldAt: reader.field("unmoldAt").isNull()
      ? null
      : reader.field("unmoldAt").matching(isMoment, "a moment YYYY-MM-DDTHH:MM, or null"),
    packAt: reader.field("packAt").matching(isMoment, "a moment YYYY-MM-DDTHH:MM"),
    ...readIfThere(reader, "expectedLosses", (losses) => losses.count(0)),
  };
}

function readOrder(reader: JsonReader, products: ReadonlySet<string>, shipBy: string): Order {
  const lines = reader.field("lines").list(caseLimits.orderLines, (line) => ({
    ...readUnits(line, products),
    ...readIfThere(line, "spare", (spare) => spare.count(0)),
  }));
  refuseTwiceTheSameProduct(reader.field("lines"), lines);
  return {
    id: reader.field("id").text(),
    terms: reader.field("terms").oneOf(["complete", "as-ready", "market"]),
    shipBy,
    weight: reader.field("weight").amount(),
    lines,
  };
}

function refuseRepeats(reader: JsonReader, entries: readonly { readonly id: string }[]): void {
  forEachRepeat(
    entries.map((entry) => entry.id),
    (index, id) => reader.item(index).field("id").mistake(`"${id}" stands here a second time`),
  );
}

function refuseTwiceTheSameProduct(
  reader: JsonReader,
  entries: readonly { readonly product: string }[],
): void {
  forEachRepeat(
    entries.map((entry) => entry.product),
    (index, product) => reader.item(index).field("product").mistake(`"${product}" stands here a second time`),
  );
}

function forEachRepeat(ids: readonly string[], report: (index: number, id: string) => void): void {
  const seen = new Set<string>();
  ids.forEach((id, index) => {
    if (id !== "" && seen.has(id)) report(index, id);
    seen.add(id);
  });
}

function refuseTooManyPieces(root: JsonReader, orders: readonly Order[]): void {
  const lines = orders.reduce((sum, order) => sum + order.lines.length, 0);
  const pieces = orders.reduce(
    (sum, order) => sum + order.lines.reduce((units, line) => units + line.units, 0),
    0,
  );
  if (lines > caseLimits.orderLines) {
    root.field("orders").mistake(`has ${lines} order lines; at most ${caseLimits.orderLines} are planned`);
  }
  if (pieces > caseLimits.pieces) {
    root
      .field("orders")
      .mistake(`asks for ${pieces} pieces; at most ${caseLimits.pieces} are planned at once`);
  }
}

function refuseTooManyPairs(root: JsonReader, orders: readonly Order[], sessions: readonly Session[]): void {
  const pairs = orders.reduce((sum, order) => sum + order.lines.length, 0) * sessions.length;
  if (pairs > caseLimits.lineSessions) {
    root
      .field("orders")
      .mistake(
        `has so many lines that lines times sessions is ${pairs}; at most ${caseLimits.lineSessions} is planned`,
      );
  }
}

function idsOf(entries: readonly { readonly id: string }[]): ReadonlySet<string> {
  return new Set(entries.map((entry) => entry.id));
}

function isTime(text: string): boolean {
  return minuteOfDay(text) !== null;
}

function lastDate(planCase: PlanCase): string {
  return planCase.sessions[planCase.sessions.length - 1]!.date;
}
