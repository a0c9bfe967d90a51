/**
 * A second reading of the planning rules, written from the model's text alone and sharing nothing with the planner: it
 * works on the JSON of a case and a plan, with the platform's own dates, in the plainest way that could be found.
 */

export interface JsonShape {
  id: string;
  moldSets: number;
  driesIn: string;
  moldHours: number;
  restHours: number;
  unitsPerTray: number;
  grams: number;
  formMinutes: number;
  turnMinutes: number;
  unmoldMinutes: number;
  packMinutes: number;
}

export interface JsonDrying {
  product: string;
  units: number;
  trays: number;
  unmoldAt: string | null;
  packAt: string;
}

export interface JsonOrder {
  id: string;
  terms: string;
  shipBy: string;
  weight: number;
  lines: { product: string; units: number }[];
}

export interface JsonCase {
  name: string;
  sessions: {
    date: string;
    start: string;
    end: string;
    handMinutes: number;
    mixing?: boolean;
    dryingFactor?: number;
  }[];
  mixers: number;
  bowlGrams: number;
  minBowlGrams: number;
  bowlMinutes: number;
  mixMinutes: number;
  cleanMinutes: number;
  trays: number;
  shapes: JsonShape[];
  blends: { id: string; shade: number }[];
  products: { id: string; blend: string; shape: string }[];
  stock?: { product: string; units: number }[];
  drying?: JsonDrying[];
  orders: JsonOrder[];
}

export interface JsonPlan {
  cost: number;
  handMinutes: number;
  bound: number;
  runs: { session: number; blend: string; bowls: number; pieces: { product: string; units: number }[] }[];
  supplies: {
    order: string;
    product: string;
    units: number;
    from: string;
    session?: number;
    drying?: number;
  }[];
  orders: { id: string; readyOn: string | null; daysLate: number; unitsShort: number }[];
}

/** The word for the rule first, then what breaks it. */
export type Complaint = readonly [rule: string, detail: string];

export interface Judgement {
  complaints: Complaint[];
  cost: number;
  handMinutes: number;
}

const small = 1e-6;

/** Every rule the plan breaks, and what it costs. */
export function judge(question: JsonCase, answer: JsonPlan): Judgement {
  const complaints: Complaint[] = [];
  const complain = (rule: string, detail: string) => complaints.push([rule, detail]);
  const count = question.sessions.length;
  const formed = formedLots(question, answer, complain);
  if (complaints.length > 0) return { complaints, cost: Number.NaN, handMinutes: Number.NaN };
  const drying = (question.drying ?? []).map((entry) => dryingLot(question, entry));
  checkRuns(question, answer, complain);
  for (let session = 0; session < count; session++) {
    checkSession(question, answer, formed, drying, session, complain);
  }
  const cost = checkOrders(question, answer, complain);
  const handMinutes =
    answer.runs.reduce((sum, run) => sum + run.bowls * question.mixMinutes + question.cleanMinutes, 0) +
    formed.reduce((sum, lot) => sum + lot.units * lot.shape.formMinutes, 0) +
    sum(Array.from({ length: count }, (_, session) => sum(formed.map((lot) => laterWork(lot, session)))));
  if (Math.abs(answer.cost - cost) > small * Math.max(1, cost)) complain("figures", `cost is ${cost}`);
  if (Math.abs(answer.handMinutes - handMinutes) > small * Math.max(1, handMinutes)) {
    complain("figures", `hand minutes are ${handMinutes}`);
  }
  if (answer.bound > cost + small) complain("figures", "the bound is above the cost");
  return { complaints, cost, handMinutes };
}

interface Lot {
  shape: JsonShape;
  units: number;
  trays: number;
  /** First session in which it is there. */
  from: number;
  /** Sessions of unmolding and packing, Infinity where there is none. */
  unmold: number;
  pack: number;
  paysUnmolding: boolean;
}

type Complain = (rule: string, detail: string) => void;

function formedLots(question: JsonCase, answer: JsonPlan, complain: Complain): Lot[] {
  const lots: Lot[] = [];
  for (const run of answer.runs) {
    const session = question.sessions[run.session];
    if (session === undefined) {
      complain("reference", `session ${run.session}`);
      continue;
    }
    for (const { product, units } of run.pieces) {
      const found = question.products.find((each) => each.id === product);
      const shape = question.shapes.find((each) => each.id === found?.shape);
      if (
        found === undefined ||
        shape === undefined ||
        found.blend !== run.blend ||
        !isPositiveCount(units)
      ) {
        complain("reference", `${units} of ${product} from ${run.blend}`);
        continue;
      }
      const factor = session.dryingFactor ?? 1;
      const dry = minutesOf(session.date, session.end) + roundedUp(shape.moldHours * factor * 60);
      const unmold = firstFrom(question, run.session + 1, dry);
      const start = question.sessions[unmold];
      const rested =
        start === undefined
          ? Number.POSITIVE_INFINITY
          : minutesOf(start.date, start.start) + roundedUp(shape.restHours * factor * 60);
      const pack = firstFrom(question, unmold, rested);
      if (pack === Number.POSITIVE_INFINITY) complain("drying-time", `${product} of session ${run.session}`);
      const trays = Math.ceil(units / shape.unitsPerTray);
      lots.push({ shape, units, trays, from: run.session, unmold, pack, paysUnmolding: true });
    }
  }
  return lots;
}

function dryingLot(question: JsonCase, entry: JsonDrying): Lot {
  const product = question.products.find((each) => each.id === entry.product);
  const shape = question.shapes.find((each) => each.id === product?.shape);
  if (shape === undefined) throw new Error(`no shape for ${entry.product}`);
  const unmold = entry.unmoldAt === null ? 0 : firstFrom(question, 0, momentOf(entry.unmoldAt));
  const pack =
    unmold === Number.POSITIVE_INFINITY ? unmold : firstFrom(question, unmold, momentOf(entry.packAt));
  const paysUnmolding = entry.unmoldAt !== null;
  return { shape, units: entry.units, trays: entry.trays, from: 0, unmold, pack, paysUnmolding };
}

function checkRuns(question: JsonCase, answer: JsonPlan, complain: Complain): void {
  answer.runs.forEach((run, index) => {
    if (!isPositiveCount(run.bowls)) complain("reference", `${run.bowls} bowls`);
    if (run.pieces.length === 0) complain("reference", "a run of nothing");
    const session = question.sessions[run.session];
    if (session?.mixing === false) complain("mixing", `session ${run.session}`);
    const again = answer.runs.findIndex((each) => each.session === run.session && each.blend === run.blend);
    if (again !== index) complain("bowls", `two runs of ${run.blend} in session ${run.session}`);
    let weight = 0;
    for (const { product, units } of run.pieces) {
      const shape = question.products.find((each) => each.id === product)?.shape;
      weight += units * (question.shapes.find((each) => each.id === shape)?.grams ?? Number.NaN);
    }
    if (weight > run.bowls * question.bowlGrams + small) complain("bowls", `${weight} g is too much`);
    if (weight < run.bowls * question.minBowlGrams - small) complain("bowls", `${weight} g is too little`);
  });
}

function checkSession(
  question: JsonCase,
  answer: JsonPlan,
  formed: Lot[],
  drying: Lot[],
  session: number,
  complain: Complain,
): void {
  const here = question.sessions[session];
  if (here === undefined) return;
  /** Whatever dries already may exceed a limit; then the plan may use nothing of it. */
  const hold = (rule: string, byPlan: number, already: number, limit: number) => {
    if (byPlan > small && byPlan + already > limit + small) {
      complain(rule, `session ${session}: ${byPlan} + ${already} > ${limit}`);
    }
  };
  const length = minutesOf(here.date, here.end) - minutesOf(here.date, here.start);
  const bowls = sum(answer.runs.filter((run) => run.session === session).map((run) => run.bowls));
  hold("mixers", bowls, 0, question.mixers * Math.floor(length / question.bowlMinutes));
  const isOnTray = (lot: Lot) => lot.from <= session && session < lot.pack;
  const isInMold = (lot: Lot) => lot.from <= session && session < lot.unmold;
  const trays = (lots: Lot[]) => sum(lots.filter(isOnTray).map((lot) => lot.trays));
  hold("trays", trays(formed), trays(drying), question.trays);
  for (const shape of question.shapes) {
    if (shape.driesIn === "none") continue;
    const pieces = (lots: Lot[]) =>
      sum(lots.filter((lot) => lot.shape.id === shape.id && isInMold(lot)).map((lot) => lot.units));
    const half = shape.moldSets === 0 ? 0 : 2 * shape.moldSets - 1;
    hold("molds", pieces(formed), pieces(drying), shape.driesIn === "half" ? half : shape.moldSets);
  }
  let work = sum(formed.map((lot) => laterWork(lot, session)));
  for (const run of answer.runs) {
    if (run.session === session) work += run.bowls * question.mixMinutes + question.cleanMinutes;
  }
  for (const lot of formed) if (lot.from === session) work += lot.units * lot.shape.formMinutes;
  hold("hands", work, sum(drying.map((lot) => laterWork(lot, session))), here.handMinutes);
}

/** Turning, unmolding and packing of a lot in a session. */
function laterWork(lot: Lot, session: number): number {
  let minutes = 0;
  if (lot.from <= session && session < lot.unmold) minutes += lot.units * lot.shape.turnMinutes;
  if (session === lot.unmold && lot.paysUnmolding) minutes += lot.units * lot.shape.unmoldMinutes;
  if (session === lot.pack) minutes += lot.units * lot.shape.packMinutes;
  return minutes;
}

function checkOrders(question: JsonCase, answer: JsonPlan, complain: Complain): number {
  const used = new Map<string, number>();
  const days = new Map<string, { units: number; date: string | null }[]>();
  for (const supply of answer.supplies) {
    const order = question.orders.find((each) => each.id === supply.order);
    const line = order?.lines.find((each) => each.product === supply.product);
    if (order === undefined || line === undefined || !Number.isInteger(supply.units) || supply.units < 0) {
      complain("reference", `supply of ${supply.product} for ${supply.order}`);
      continue;
    }
    const [source, there, date] = sourceOf(question, answer, supply);
    use(used, source, supply.units, there, complain);
    use(used, `line ${supply.order} ${supply.product}`, supply.units, line.units, complain);
    if (supply.units === 0) continue;
    if (order.terms === "market" && date !== null && daysBetween(order.shipBy, date) > 0) {
      complain("supply", `${supply.product} is too late for ${order.id}`);
    }
    days.set(order.id, [...(days.get(order.id) ?? []), { units: supply.units, date }]);
  }
  if (answer.orders.length !== question.orders.length) complain("figures", "orders left out");
  return sum(
    question.orders.map((order) => costOf(question, answer, order, days.get(order.id) ?? [], complain)),
  );
}

function sourceOf(
  question: JsonCase,
  answer: JsonPlan,
  supply: JsonPlan["supplies"][number],
): [name: string, there: number, date: string | null] {
  if (supply.from === "stock") {
    const stock = question.stock?.find((each) => each.product === supply.product);
    return [`stock ${supply.product}`, stock?.units ?? 0, null];
  }
  const nowhere = "9999-12-31";
  if (supply.from === "drying") {
    const entry = question.drying?.[supply.drying ?? -1];
    if (entry === undefined || entry.product !== supply.product) return ["no such drying", 0, nowhere];
    const { pack } = dryingLot(question, entry);
    const date = question.sessions[pack]?.date;
    return [`drying ${supply.drying}`, date === undefined ? 0 : entry.units, date ?? nowhere];
  }
  const lots = formedLots(
    question,
    { ...answer, runs: answer.runs.filter((run) => run.session === supply.session) },
    () => {},
  );
  const product = question.products.find((each) => each.id === supply.product);
  const run = answer.runs.find((each) => each.session === supply.session && each.blend === product?.blend);
  const pieces = run?.pieces.find((each) => each.product === supply.product);
  const lot = lots.find((each) => each.shape.id === product?.shape);
  const date = lot === undefined ? nowhere : (question.sessions[lot.pack]?.date ?? nowhere);
  return [`session ${supply.session} ${supply.product}`, pieces?.units ?? 0, date];
}

function use(
  used: Map<string, number>,
  name: string,
  units: number,
  there: number,
  complain: Complain,
): void {
  const total = (used.get(name) ?? 0) + units;
  used.set(name, total);
  if (total > there) complain("supply", `${total} of ${there}: ${name}`);
}

function costOf(
  question: JsonCase,
  answer: JsonPlan,
  order: JsonOrder,
  supplies: { units: number; date: string | null }[],
  complain: Complain,
): number {
  const first = question.sessions[0]?.date ?? "";
  const last = question.sessions[question.sessions.length - 1]?.date ?? "";
  const ordered = sum(order.lines.map((line) => line.units));
  const served = sum(supplies.map((supply) => supply.units));
  const late = (date: string | null) => (date === null ? 0 : Math.max(0, daysBetween(order.shipBy, date)));
  const never = Math.max(7, daysBetween(order.shipBy, last) + 7);
  const mostLate = Math.max(0, ...supplies.map((supply) => late(supply.date)));
  const stated = answer.orders.find((each) => each.id === order.id);
  const readyOn = [first, ...supplies.map((supply) => supply.date ?? first)].sort().at(-1) ?? first;
  const is =
    served === ordered
      ? { readyOn, daysLate: mostLate, unitsShort: 0 }
      : { readyOn: null, daysLate: never, unitsShort: ordered - served };
  if (
    stated?.readyOn !== is.readyOn ||
    stated.daysLate !== is.daysLate ||
    stated.unitsShort !== is.unitsShort
  ) {
    complain("figures", `${order.id}: ${JSON.stringify(stated)} should be ${JSON.stringify(is)}`);
  }
  if (order.terms === "complete") return order.weight * ordered * (served === ordered ? mostLate : never);
  if (order.terms === "market") return order.weight * 7 * (ordered - served);
  const unitDays = sum(supplies.map((supply) => supply.units * late(supply.date)));
  return order.weight * (unitDays + (ordered - served) * never);
}

function firstFrom(question: JsonCase, from: number, minute: number): number {
  for (let session = from; session < question.sessions.length; session++) {
    const each = question.sessions[session];
    if (each !== undefined && minutesOf(each.date, each.start) >= minute) return session;
  }
  return Number.POSITIVE_INFINITY;
}

/** Up to the whole minute, but not because of the last digits of a product of decimals. */
function roundedUp(minutes: number): number {
  const whole = Math.round(minutes);
  return Math.abs(minutes - whole) < 1e-6 ? whole : Math.ceil(minutes);
}

function minutesOf(date: string, time: string): number {
  return momentOf(`${date}T${time === "24:00" ? "23:59" : time}`) + (time === "24:00" ? 1 : 0);
}

function momentOf(moment: string): number {
  return Date.parse(`${moment}:00Z`) / 60_000;
}

function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
}

function isPositiveCount(value: number): boolean {
  return Number.isInteger(value) && value > 0;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
