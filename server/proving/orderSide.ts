import { mostFormed } from "../planning/bounds/mostFormed.ts";
import { Offers } from "../planning/bounds/offers.ts";
import { asReadyTerms, completeTerms, type Instance, marketDays } from "../planning/search/instance.ts";
import { endless, type LinearModel, type Term } from "./linearModel.ts";
import type { WorkshopSide } from "./workshopSide.ts";

/** Units that a line takes of one supply. */
interface Taking {
  /** Column: how many. */
  readonly units: number;
  readonly most: number;
  readonly day: number;
  /** Column: whether the run is there; null for what is ready already. */
  readonly isRun: number | null;
}

/** Units that a line takes from a run. */
export interface FromRun {
  readonly line: number;
  readonly session: number;
  /** When they are ready. */
  readonly day: number;
  /** Column: how many. */
  readonly units: number;
}

/** Which supply serves which order line, and what that costs in lateness. */
export class OrderSide {
  readonly fromRuns: FromRun[] = [];
  readonly #instance: Instance;
  readonly #model: LinearModel;
  readonly #workshop: WorkshopSide;
  readonly #offers: Offers;
  /** Units taken, by column of the pieces and by ready supply. */
  readonly #ofPieces = new Map<number, Term[]>();
  readonly #ofReady = new Map<number, Term[]>();

  constructor(instance: Instance, model: LinearModel, workshop: WorkshopSide) {
    this.#instance = instance;
    this.#model = model;
    this.#workshop = workshop;
    this.#offers = new Offers(instance, mostFormed(instance));
    for (let order = 0; order < instance.orders; order++) {
      if (instance.orderTerms[order] === completeTerms) this.#addComplete(order);
      else this.#addByThePiece(order);
    }
    for (const [pieces, taken] of this.#ofPieces) model.row(-endless, [...taken, [-1, pieces]], 0);
    for (const [ready, taken] of this.#ofReady) model.row(-endless, taken, instance.readyUnits[ready]!);
  }

  #linesOf(order: number): readonly number[] {
    const first = this.#instance.firstLine[order]!;
    return Array.from({ length: this.#instance.firstLine[order + 1]! - first }, (_, at) => first + at);
  }

  /** Every unit served saves what it would cost never to serve it. */
  #addByThePiece(order: number): void {
    const { orderTerms, orderWeight, orderNever, orderDue, lineUnits } = this.#instance;
    const weight = orderWeight[order]!;
    const isMarket = orderTerms[order] !== asReadyTerms;
    const never = weight * (isMarket ? marketDays : orderNever[order]!);
    const costOn = (day: number) => weight * Math.max(0, day - orderDue[order]!);
    const isOfUse = (day: number) => (isMarket ? day <= orderDue[order]! : costOn(day) < never);
    for (const line of this.#linesOf(order)) {
      this.#model.offset += never * lineUnits[line]!;
      this.#addTakings(line, isOfUse, (day) => costOn(day) - never);
    }
  }

  /**
   * A complete order is ready by one of the days on which something of it can be, or never; every unit of every line has
   * to be there by then.
   */
  #addComplete(order: number): void {
    const { orderWeight, orderNever, orderDue, orderUnits } = this.#instance;
    const model = this.#model;
    const due = orderDue[order]!;
    const perDay = orderWeight[order]! * orderUnits[order]!;
    const lines = this.#linesOf(order).map((line) => ({
      line,
      takings: this.#addTakings(
        line,
        (day) => day - due < orderNever[order]!,
        () => 0,
      ),
    }));
    const later = lines.flatMap(({ takings }) => takings.map(({ day }) => day)).filter((day) => day > due);
    const days = [due, ...new Set(later)].sort((one, other) => one - other);
    const readyOn = days.map((day) =>
      model.decision(1, perDay * (Math.max(0, day - due) - orderNever[order]!)),
    );
    model.offset += perDay * orderNever[order]!;
    model.row(
      -endless,
      readyOn.map((column): Term => [1, column]),
      1,
    );
    for (const { line, takings } of lines) this.#addReadyBy(line, takings, days, readyOn);
  }

  /** Where the order is ready by a day, all units of the line are; and a run for them is there where one is needed. */
  #addReadyBy(
    line: number,
    takings: readonly Taking[],
    days: readonly number[],
    readyOn: readonly number[],
  ): void {
    const units = this.#instance.lineUnits[line]!;
    days.forEach((day, index) => {
      const next = days[index + 1] ?? endless;
      // Up to the next day on which more of the line can be there the same units have to do: the last row says it all.
      if (next < endless && !takings.some((taking) => taking.day > day && taking.day <= next)) return;
      const inTime = takings.filter((taking) => taking.day <= day);
      const ready = readyOn.slice(0, index + 1);
      this.#model.row(
        0,
        [
          ...inTime.map((taking): Term => [1, taking.units]),
          ...ready.map((column): Term => [-units, column]),
        ],
        endless,
      );
      const fromShelf = inTime.filter(({ isRun }) => isRun === null).reduce((sum, { most }) => sum + most, 0);
      if (fromShelf >= units) return;
      const runs = inTime.flatMap(({ isRun }): Term[] => (isRun === null ? [] : [[1, isRun]]));
      this.#model.row(0, [...runs, ...ready.map((column): Term => [-1, column])], endless);
    });
  }

  /** Units a line takes, from every supply whose day is of use. */
  #addTakings(
    line: number,
    isOfUse: (day: number) => boolean,
    costOn: (day: number) => number,
  ): readonly Taking[] {
    const { first } = this.#offers;
    const product = this.#instance.lineProduct[line]!;
    const takings: Taking[] = [];
    for (let offer = first[line]!; offer < first[line + 1]!; offer++) {
      const day = this.#offers.day[offer]!;
      if (!isOfUse(day)) continue;
      const session = this.#offers.source[offer]!;
      const source = session < 0 ? null : this.#workshop.source(product, session);
      if (session >= 0 && source === null) continue;
      const most = this.#offers.units[offer]!;
      const units = this.#model.amount(most, costOn(day));
      takings.push({ units, most, day, isRun: source?.isRun ?? null });
      if (source === null) append(this.#ofReady, -1 - session, units);
      else {
        append(this.#ofPieces, source.pieces, units);
        this.fromRuns.push({ line, session, day, units });
        // Part of a run gives each line at most that part of its units: what makes the model strong.
        this.#model.row(
          -endless,
          [
            [1, units],
            [-most, source.isRun],
          ],
          0,
        );
      }
    }
    const all = takings.map(({ units }): Term => [1, units]);
    this.#model.row(-endless, all, this.#instance.lineUnits[line]!);
    return takings;
  }
}

function append(lists: Map<number, Term[]>, key: number, column: number): void {
  const terms = lists.get(key);
  if (terms === undefined) lists.set(key, [[1, column]]);
  else terms.push([1, column]);
}
