import { daysLate, type Forming, minutesPerPiece, type PlainCase, type Source } from "../plainReading.ts";

/** A mixed-integer model: columns with bounds and costs, rows with bounds and coefficients. */
export interface MipModel {
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Added to every cost: what it costs to serve nobody. */
  readonly offset: number;
  /** Pieces of each forming, by column. */
  readonly pieces: ReadonlyMap<Forming, number>;
  /** Units handed out, by column. */
  readonly hands: readonly HandingOut[];
}

export interface Column {
  readonly most: number;
  /** Lateness cost of one, in unit-days. */
  readonly cost: number;
  /** Hand minutes of one. */
  readonly minutes: number;
}

export interface Row {
  readonly least: number;
  readonly most: number;
  readonly terms: readonly Term[];
}

export type Term = readonly [factor: number, column: number];

interface HandingOut {
  readonly column: number;
  readonly order: number;
  readonly product: string;
  readonly source: Source;
}

const endless = Number.POSITIVE_INFINITY;

/**
 * The planning problem as a mixed-integer program; every column takes whole numbers. Per forming the pieces and their
 * trays, per blend and session the bowls and whether there is a run, per line and source the units handed over, per
 * complete order the day by which all of it is ready.
 */
export function mipModel(plain: PlainCase): MipModel {
  const model = new Builder();
  const pieces = new Map<Forming, number>();
  for (const forming of plain.formings) {
    const most = mostPieces(plain, forming);
    pieces.set(forming, model.column({ most, minutes: minutesPerPiece(forming) }));
  }
  const runs = addRuns(model, plain, pieces);
  addLimits(model, plain, pieces, runs);
  const hands = addService(model, plain, pieces);
  return { columns: model.columns, rows: model.rows, offset: model.offset, pieces, hands };
}

class Builder {
  readonly columns: Column[] = [];
  readonly rows: Row[] = [];
  offset = 0;

  column({ most = endless, cost = 0, minutes = 0 }: Partial<Column>): number {
    return this.columns.push({ most, cost, minutes }) - 1;
  }

  row(least: number, terms: readonly Term[], most: number): void {
    if (terms.length > 0) this.rows.push({ least, most, terms });
  }
}

interface RunColumns {
  readonly session: number;
  readonly bowls: number;
  readonly runs: number;
}

/** More pieces than this in one session can't be held, or can't be of any use. */
function mostPieces(plain: PlainCase, forming: Forming): number {
  const { question, room } = plain;
  const molds = room.molds.get(forming.shape.id)?.[forming.session] ?? 0;
  const trays = (room.trays[forming.session] ?? 0) * forming.shape.unitsPerTray;
  const grams = (room.bowls[forming.session] ?? 0) * question.bowlGrams;
  return Math.floor(Math.min(molds, trays, grams / forming.shape.grams + 1e-9));
}

function addRuns(
  model: Builder,
  { question, formings, room }: PlainCase,
  pieces: ReadonlyMap<Forming, number>,
): readonly RunColumns[] {
  return question.sessions.flatMap((_, session) =>
    question.blends.flatMap(({ id }): RunColumns[] => {
      const formed = formings.filter((each) => each.session === session && each.blend === id);
      const most = room.bowls[session] ?? 0;
      if (formed.length === 0) return [];
      const bowls = model.column({ most, minutes: question.mixMinutes });
      const runs = model.column({ most: 1, minutes: question.cleanMinutes });
      const grams = formed.map((each): Term => [each.shape.grams, pieces.get(each) ?? 0]);
      model.row(-endless, [...grams, [-question.bowlGrams, bowls]], 0);
      model.row(0, [...grams, [-question.minBowlGrams, bowls]], endless);
      model.row(
        -endless,
        [
          [1, bowls],
          [-most, runs],
        ],
        0,
      );
      model.row(
        0,
        [
          [1, bowls],
          [-1, runs],
        ],
        endless,
      );
      // Implied by the bowls; stated because it is tighter while a run is still a fraction.
      for (const each of formed) {
        const column = pieces.get(each) ?? 0;
        model.row(
          -endless,
          [
            [1, column],
            [-(model.columns[column]?.most ?? 0), runs],
          ],
          0,
        );
      }
      return [{ session, bowls, runs }];
    }),
  );
}

function addLimits(
  model: Builder,
  { question, formings, room }: PlainCase,
  pieces: ReadonlyMap<Forming, number>,
  runs: readonly RunColumns[],
): void {
  const trays = new Map<Forming, number>();
  for (const forming of formings) {
    const column = model.column({});
    model.row(
      0,
      [
        [forming.shape.unitsPerTray, column],
        [-1, pieces.get(forming) ?? 0],
      ],
      endless,
    );
    trays.set(forming, column);
  }
  question.sessions.forEach((_, session) => {
    const here = runs.filter((run) => run.session === session);
    model.row(
      -endless,
      here.map(({ bowls }): Term => [1, bowls]),
      room.bowls[session] ?? 0,
    );
    const work = formings.map((each): Term => [each.minutes[session] ?? 0, pieces.get(each) ?? 0]);
    const mixing = here.flatMap((run): Term[] => [
      [question.mixMinutes, run.bowls],
      [question.cleanMinutes, run.runs],
    ]);
    model.row(-endless, [...work.filter(([minutes]) => minutes > 0), ...mixing], room.hands[session] ?? 0);
    const drying = formings.filter((each) => each.session <= session && session < each.pack);
    model.row(
      -endless,
      drying.map((each): Term => [1, trays.get(each) ?? 0]),
      room.trays[session] ?? 0,
    );
    for (const [shape, molds] of room.molds) {
      const held = formings.filter(
        (each) => each.shape.id === shape && each.session <= session && session < each.unmold,
      );
      const most = molds[session] ?? 0;
      if (most < endless)
        model.row(
          -endless,
          held.map((each): Term => [1, pieces.get(each) ?? 0]),
          most,
        );
    }
  });
}

function addService(model: Builder, plain: PlainCase, pieces: ReadonlyMap<Forming, number>): HandingOut[] {
  const hands = plain.orders.flatMap(({ order }, at) =>
    order.terms === "complete" ? addComplete(model, plain, at) : addByThePiece(model, plain, at),
  );
  for (const source of new Set(hands.map((each) => each.source))) {
    const taken = hands.filter((each) => each.source === source).map(({ column }): Term => [1, column]);
    if (source.from === "run") model.row(-endless, [...taken, [-1, pieces.get(source.forming) ?? 0]], 0);
    else model.row(-endless, taken, source.units);
  }
  return hands;
}

/** An order is ready by one of the days on which something of it can be ready, or never. */
function addComplete(model: Builder, plain: PlainCase, at: number): HandingOut[] {
  const ordered = plain.orders[at];
  if (ordered === undefined) return [];
  const { order, units, shipByDay, neverDays } = ordered;
  const perDay = order.weight * units;
  const lines = order.lines.map((line) => ({ ...line, sources: sourcesOf(plain, line.product) }));
  const late = lines.flatMap(({ sources }) => sources.map(({ day }) => day)).filter((day) => day > shipByDay);
  const days = [shipByDay, ...new Set(late)].sort((one, other) => one - other);
  const readyBy = days.map((day) =>
    model.column({ most: 1, cost: perDay * (daysLate(ordered, day) - neverDays) }),
  );
  model.offset += perDay * neverDays;
  model.row(
    -endless,
    readyBy.map((column): Term => [1, column]),
    1,
  );
  return lines.flatMap((line) => {
    const hands = line.sources.map((source) => ({
      column: model.column({ most: line.units }),
      order: at,
      product: line.product,
      source,
    }));
    days.forEach((day, index) => {
      const inTime = hands.filter(({ source }) => source.day <= day).map(({ column }): Term => [1, column]);
      const chosen = readyBy.slice(0, index + 1).map((column): Term => [-line.units, column]);
      model.row(0, [...inTime, ...chosen], endless);
    });
    model.row(
      -endless,
      hands.map(({ column }): Term => [1, column]),
      line.units,
    );
    return hands;
  });
}

/** Each unit handed over saves what it would cost never to serve it. */
function addByThePiece(model: Builder, plain: PlainCase, at: number): HandingOut[] {
  const ordered = plain.orders[at];
  if (ordered === undefined) return [];
  const { order, shipByDay, neverDays } = ordered;
  const market = order.terms === "market";
  const never = order.weight * (market ? 7 : neverDays);
  return order.lines.flatMap(({ product, units }) => {
    model.offset += never * units;
    const sources = sourcesOf(plain, product).filter(({ day }) => !market || day <= shipByDay);
    const hands = sources.map((source) => ({
      column: model.column({ most: units, cost: order.weight * daysLate(ordered, source.day) - never }),
      order: at,
      product,
      source,
    }));
    model.row(
      -endless,
      hands.map(({ column }): Term => [1, column]),
      units,
    );
    return hands;
  });
}

function sourcesOf(plain: PlainCase, product: string): readonly Source[] {
  return plain.sources[plain.question.products.findIndex(({ id }) => id === product)] ?? [];
}
