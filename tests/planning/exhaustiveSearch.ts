import type { JsonCase, JsonPlan } from "./independentChecker.ts";
import {
  always,
  bowlsFor,
  daysLate,
  type Forming,
  minutesPerPiece,
  type PlainCase,
  type PlainOrder,
  readPlainly,
  type Source,
} from "./plainReading.ts";
import { type Handed, writePlainPlan } from "./writePlainPlan.ts";

/**
 * The best plan of a tiny case by trying everything: every number of pieces of every product in every session, and for
 * each of these every way to hand the pieces to the orders. Three things are left out, none of which can hold a better
 * plan: plans that already break a limit (more pieces only use more of it), plans that cost more than the best one
 * found even if everything undecided could be had in plenty, and pieces beyond all that is ordered of a product where
 * fewer of them would fill the bowls as well.
 */
export function exhaustiveSearch(question: JsonCase): JsonPlan {
  const search = new Search(readPlainly(question));
  search.decide(0);
  return search.best;
}

const small = 1e-6;

/** What one blend may become in one session. */
interface Slot {
  readonly session: number;
  readonly blend: string;
  readonly formings: readonly Forming[];
}

class Search {
  best: JsonPlan;
  readonly #plain: PlainCase;
  readonly #slots: readonly Slot[];
  readonly #service: Service;
  /** Pieces decided for each forming; undecided ones are missing. */
  readonly #pieces = new Map<Forming, number>();
  readonly #used: Used;

  constructor(plain: PlainCase) {
    this.#plain = plain;
    this.#slots = slotsOf(plain);
    this.#service = new Service(plain);
    this.#used = new Used(plain);
    this.best = {
      cost: Number.POSITIVE_INFINITY,
      handMinutes: 0,
      bound: 0,
      runs: [],
      supplies: [],
      orders: [],
    };
  }

  /** Tries everything for the slots from this one on. */
  decide(at: number): void {
    const served = this.#service.cheapest(this.#pieces, this.best.cost);
    const { minutes } = this.#used;
    const saves = this.best.cost - served.cost;
    if (saves < -small || (saves < small && minutes >= this.best.handMinutes - small)) return;
    const slot = this.#slots[at];
    if (slot !== undefined) this.#fill(slot, 0, () => this.decide(at + 1));
    else {
      const handed = served.handed.flatMap(listed);
      this.best = writePlainPlan(this.#plain, this.#pieces, handed, {
        ...served,
        bound: served.cost,
        handMinutes: minutes,
      });
    }
  }

  /** Tries every number of pieces for the slot's formings from the given one on, then goes on with `then`. */
  #fill(slot: Slot, from: number, then: () => void): void {
    const forming = slot.formings[from];
    if (forming === undefined) {
      this.#mix(slot, then);
      return;
    }
    for (let units = 0; ; units++) {
      this.#pieces.set(forming, units);
      const fits = this.#used.withPieces(forming, units, () => this.#fill(slot, from + 1, then));
      const grams = this.#grams(slot.formings.slice(0, from + 1));
      if (!fits || grams > this.#mostGrams(slot.session)) break;
    }
    this.#pieces.delete(forming);
  }

  /** Adds the bowls and the clean-down of a slot whose pieces are decided, where there is a way to mix just so much. */
  #mix(slot: Slot, then: () => void): void {
    const bowls = bowlsFor(this.#plain.question, this.#grams(slot.formings));
    if (bowls === null || this.#isWasteful(slot)) return;
    this.#used.withBowls(slot.session, bowls, then);
  }

  /** True where a product has more pieces than are ordered of it and fewer of them could be mixed as well. */
  #isWasteful(slot: Slot): boolean {
    const grams = this.#grams(slot.formings);
    return slot.formings.some((forming) => {
      const units = this.#pieces.get(forming) ?? 0;
      for (let fewer = this.#service.ordered(forming.product); fewer < units; fewer++) {
        if (bowlsFor(this.#plain.question, grams - (units - fewer) * forming.shape.grams) !== null)
          return true;
      }
      return false;
    });
  }

  #grams(formings: readonly Forming[]): number {
    return formings.reduce((sum, each) => sum + (this.#pieces.get(each) ?? 0) * each.shape.grams, 0);
  }

  #mostGrams(session: number): number {
    return (this.#plain.room.bowls[session] ?? 0) * this.#plain.question.bowlGrams;
  }
}

function slotsOf({ question, formings }: PlainCase): readonly Slot[] {
  return question.sessions.flatMap((_, session) =>
    question.blends
      .map(({ id: blend }) => ({
        session,
        blend,
        formings: formings.filter((each) => each.session === session && each.blend === blend),
      }))
      .filter((slot) => slot.formings.length > 0),
  );
}

/** What the pieces and bowls decided so far use of each limit. */
class Used {
  /** Hand minutes of everything. */
  minutes = 0;
  readonly #plain: PlainCase;
  readonly #hands: number[];
  readonly #trays: number[];
  readonly #bowls: number[];
  readonly #molds: Map<string, number[]>;

  constructor(plain: PlainCase) {
    const none = () => plain.question.sessions.map(() => 0);
    this.#plain = plain;
    this.#hands = none();
    this.#trays = none();
    this.#bowls = none();
    this.#molds = new Map(plain.question.shapes.map(({ id }) => [id, none()]));
  }

  /** Goes on with the pieces formed, and takes them off again. False, without going on, where a limit is broken. */
  withPieces(forming: Forming, units: number, then: () => void): boolean {
    this.#form(forming, units);
    const fits = units === 0 || this.#fits();
    if (fits) then();
    this.#form(forming, -units);
    return fits;
  }

  withBowls(session: number, bowls: number, then: () => void): void {
    this.#mix(session, bowls);
    if (bowls === 0 || this.#fits()) then();
    this.#mix(session, -bowls);
  }

  #form(forming: Forming, units: number): void {
    const trays = Math.sign(units) * Math.ceil(Math.abs(units) / forming.shape.unitsPerTray);
    const molds = this.#molds.get(forming.shape.id) ?? [];
    this.minutes += units * minutesPerPiece(forming);
    for (let session = forming.session; session <= forming.pack; session++) {
      add(this.#hands, session, units * (forming.minutes[session] ?? 0));
      if (session < forming.pack) add(this.#trays, session, trays);
      if (session < forming.unmold) add(molds, session, units);
    }
  }

  #mix(session: number, bowls: number): void {
    const { mixMinutes, cleanMinutes } = this.#plain.question;
    const minutes = bowls * mixMinutes + Math.sign(bowls) * cleanMinutes;
    this.minutes += minutes;
    add(this.#hands, session, minutes);
    add(this.#bowls, session, bowls);
  }

  #fits(): boolean {
    const { room } = this.#plain;
    return (
      within(this.#hands, room.hands) &&
      within(this.#trays, room.trays) &&
      within(this.#bowls, room.bowls) &&
      [...this.#molds].every(([shape, used]) => within(used, room.molds.get(shape) ?? []))
    );
  }
}

function add(amounts: number[], at: number, more: number): void {
  amounts[at] = (amounts[at] ?? 0) + more;
}

function within(used: readonly number[], room: readonly number[]): boolean {
  return used.every((amount, at) => amount <= (room[at] ?? 0) + small);
}

/** Pieces handed out, the last first decided at the head. */
interface HandedList {
  readonly handed: Handed;
  readonly next: HandedList | null;
}

interface Served {
  readonly cost: number;
  readonly handed: readonly (HandedList | null)[];
}

function listed(first: HandedList | null): Handed[] {
  return first === null ? [] : [first.handed, ...listed(first.next)];
}

/** A line of an order, as its product sees it. */
interface Line {
  readonly order: number;
  readonly units: number;
}

/** Hands pieces to orders at the least lateness cost. */
class Service {
  readonly #products: readonly ProductService[];
  /** Every choice of the day by which each complete order has all its units, the cheapest choice first. */
  readonly #choices: readonly { readonly cost: number; readonly until: readonly number[] }[];

  constructor(plain: PlainCase) {
    this.#products = plain.question.products.map(({ id }, product) => new ProductService(plain, id, product));
    this.#choices = deadlineChoices(plain);
  }

  /** Units on order of a product. */
  ordered(product: number): number {
    return this.#products[product]?.ordered ?? 0;
  }

  /** The cheapest service below `most`; formings missing in `pieces` give whatever is wanted. */
  cheapest(pieces: ReadonlyMap<Forming, number>, most: number): Served {
    const amounts = this.#products.map((product) => product.amounts(pieces));
    let best: Served = { cost: Number.POSITIVE_INFINITY, handed: [] };
    for (const { cost, until } of this.#choices) {
      if (cost > Math.min(most + small, best.cost)) break;
      const each = this.#products.map((product, at) => product.serve(amounts[at] ?? [], until));
      const total = each.reduce((sum, served) => sum + served.cost, cost);
      if (total < best.cost) best = { cost: total, handed: each.map(({ handed }) => handed) };
    }
    return best;
  }
}

function linesOf(orders: readonly PlainOrder[], product: string): readonly Line[] {
  return orders.flatMap(({ order }, at) =>
    order.lines.filter((line) => line.product === product).map(({ units }) => ({ order: at, units })),
  );
}

/**
 * All ways to say by which day each complete order must have all its units: its ship-by, any later day on which
 * something can be ready, or never. Other orders get no such day.
 */
function deadlineChoices({ orders, sources }: PlainCase): { cost: number; until: readonly number[] }[] {
  const days = [...new Set(sources.flat().map(({ day }) => day))];
  let choices: { cost: number; until: readonly number[] }[] = [{ cost: 0, until: [] }];
  for (const plain of orders) {
    const { order, units, shipByDay, neverDays } = plain;
    const perDay = order.weight * units;
    const options =
      order.terms === "complete"
        ? [
            { cost: 0, day: shipByDay },
            ...days
              .filter((day) => day > shipByDay)
              .map((day) => ({ cost: perDay * daysLate(plain, day), day })),
            { cost: perDay * neverDays, day: Number.NaN },
          ]
        : [{ cost: 0, day: Number.NaN }];
    choices = choices.flatMap(({ cost, until }) =>
      options.map((option) => ({ cost: cost + option.cost, until: [...until, option.day] })),
    );
  }
  return choices.sort((one, other) => one.cost - other.cost);
}

class ProductService {
  readonly ordered: number;
  readonly #id: string;
  readonly #orders: readonly PlainOrder[];
  readonly #lines: readonly Line[];
  readonly #sources: readonly Source[];
  readonly #known = new Map<string, { cost: number; handed: HandedList | null }>();

  constructor(plain: PlainCase, id: string, product: number) {
    this.#id = id;
    this.#orders = plain.orders;
    this.#lines = linesOf(plain.orders, id);
    this.#sources = plain.sources[product] ?? [];
    this.ordered = this.#lines.reduce((sum, line) => sum + line.units, 0);
  }

  /** Pieces there are of each source, never more than could be used. */
  amounts(pieces: ReadonlyMap<Forming, number>): readonly number[] {
    return this.#sources.map((source) =>
      Math.min(
        this.ordered,
        source.from === "run" ? (pieces.get(source.forming) ?? this.ordered) : source.units,
      ),
    );
  }

  /** The cheapest way to serve this product's lines when complete orders have all their units by the given days. */
  serve(amounts: readonly number[], until: readonly number[]): { cost: number; handed: HandedList | null } {
    const key = `${amounts.join()};${this.#lines.map(({ order }) => until[order]).join()}`;
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const wants = this.#lines.map(({ order, units }) => (this.#takesNothing(order, until) ? 0 : units));
    const served = this.#handOut(amounts, until, wants, 0);
    this.#known.set(key, served);
    return served;
  }

  /** A complete order that is never whole costs the same whatever it is given. */
  #takesNothing(order: number, until: readonly number[]): boolean {
    return this.#orders[order]?.order.terms === "complete" && Number.isNaN(until[order]);
  }

  /** Tries every number of units from every source for every line; `at` counts pairs of source and line. */
  #handOut(
    amounts: readonly number[],
    until: readonly number[],
    wants: readonly number[],
    at: number,
  ): { cost: number; handed: HandedList | null } {
    const count = this.#lines.length;
    const source = this.#sources[Math.floor(at / count)];
    if (count === 0 || source === undefined) return { cost: this.#costOfUnserved(wants), handed: null };
    const line = at % count;
    const order = this.#lines[line]?.order ?? 0;
    const each = this.#costOfUnit(order, source.day, until);
    const most = each === null ? 0 : Math.min(wants[line] ?? 0, amounts[Math.floor(at / count)] ?? 0);
    let best: { cost: number; handed: HandedList | null } = { cost: Number.POSITIVE_INFINITY, handed: null };
    for (let units = most; units >= 0; units--) {
      const rest = this.#handOut(
        amounts.map((amount, index) => (index === Math.floor(at / count) ? amount - units : amount)),
        until,
        wants.map((want, index) => (index === line ? want - units : want)),
        at + 1,
      );
      const cost = rest.cost + units * (each ?? 0);
      const handed =
        units === 0
          ? rest.handed
          : { handed: { order, source, product: this.#id, units }, next: rest.handed };
      if (cost < best.cost) best = { cost, handed };
    }
    return best;
  }

  /** Lateness cost of one unit from a source of this day; null where the order can't take it. */
  #costOfUnit(at: number, day: number, until: readonly number[]): number | null {
    const plain = this.#orders[at];
    if (plain === undefined) return null;
    const { order, shipByDay } = plain;
    if (order.terms === "as-ready") return order.weight * daysLate(plain, day);
    const last = order.terms === "complete" ? (until[at] ?? always) : shipByDay;
    return day <= last ? 0 : null;
  }

  #costOfUnserved(wants: readonly number[]): number {
    return this.#lines.reduce((sum, { order: at }, line) => {
      const plain = this.#orders[at];
      const units = wants[line] ?? 0;
      if (plain === undefined || units === 0) return sum;
      if (plain.order.terms === "complete") return Number.POSITIVE_INFINITY;
      const days = plain.order.terms === "market" ? 7 : plain.neverDays;
      return sum + plain.order.weight * days * units;
    }, 0);
  }
}
