import type { Instance } from "./instance.ts";

/** Sessions that are passed by at once where all of them are full, which counts where a calendar has thousands. */
export const blockSessions = 32;

/**
 * Where everything about a schedule is kept: one array of numbers (`cells`), so that a move is taken back by writing
 * the old values of a log, and a best schedule is kept by copying one array.
 */
export class ScheduleState {
  readonly instance: Instance;
  readonly cells: Float64Array;
  /** By order: how many times what its lateness costs by the case it counts in the search, 1 unless something else is said. */
  readonly insistence: Float64Array;

  /** Where each kind of cell begins; `line * sessions + session` and the like are added. */
  readonly made: number;
  readonly served: number;
  readonly taken: number;
  readonly takenOfLine: Int32Array;
  readonly readyLeft: number;
  readonly units: number;
  readonly filler: number;
  readonly fillers: number;
  readonly weight: number;
  readonly bowls: number;
  readonly moldLeft: number;
  readonly trayLeft: number;
  readonly handLeft: number;
  readonly bowlLeft: number;
  /** By block of sessions: those with a bowl left; by blend and block: those with a run. What has neither is passed by. */
  readonly openInBlock: number;
  readonly runsInBlock: number;
  /** By order: the last day on which a unit of it becomes ready, infinite where units are missing; as of its pricing. */
  readonly readyOn: number;
  readonly orderCost: number;
  readonly cost: number;
  readonly ticks: number;
  /** What all pieces and bowls use, at what the schedule's worth says. */
  readonly worthUsed: number;

  #logCells = new Int32Array(4096);
  #logValues = new Float64Array(4096);
  #logged = 0;

  constructor(instance: Instance) {
    this.instance = instance;
    this.insistence = new Float64Array(instance.orders).fill(1);
    const { sessions, lines, products, blends, shapes, orders } = instance;
    this.takenOfLine = new Int32Array(lines + 1);
    for (let line = 0; line < lines; line++) {
      const product = instance.lineProduct[line]!;
      const supplies = instance.firstReady[product + 1]! - instance.firstReady[product]!;
      this.takenOfLine[line + 1] = this.takenOfLine[line]! + supplies;
    }
    let size = 0;
    const reserve = (count: number) => {
      const first = size;
      size += count;
      return first;
    };
    this.made = reserve(lines * sessions);
    this.served = reserve(lines);
    this.taken = reserve(this.takenOfLine[lines]!);
    this.readyLeft = reserve(instance.readyUnits.length);
    this.units = reserve(products * sessions);
    this.filler = reserve(products * sessions);
    this.fillers = reserve(blends * sessions);
    this.weight = reserve(blends * sessions);
    this.bowls = reserve(blends * sessions);
    this.moldLeft = reserve(shapes * sessions);
    this.trayLeft = reserve(sessions);
    this.handLeft = reserve(sessions);
    this.bowlLeft = reserve(sessions);
    const blocks = Math.ceil(sessions / blockSessions);
    this.openInBlock = reserve(blocks);
    this.runsInBlock = reserve(blends * blocks);
    this.readyOn = reserve(orders);
    this.orderCost = reserve(orders);
    this.cost = reserve(1);
    this.ticks = reserve(1);
    this.worthUsed = reserve(1);
    this.cells = new Float64Array(size);
    this.cells.set(instance.readyUnits, this.readyLeft);
    this.cells.set(instance.moldRoom, this.moldLeft);
    this.cells.set(instance.trayRoom, this.trayLeft);
    this.cells.set(instance.handRoom, this.handLeft);
    this.cells.set(instance.bowlRoom, this.bowlLeft);
    for (let session = 0; session < sessions; session++) {
      if (instance.bowlRoom[session]! > 0) this.cells[this.openInBlock + blockOf(session)]! += 1;
    }
  }

  /** Forgets how to go back: what has been done stays. */
  keep(): void {
    this.#logged = 0;
  }

  /** Takes back everything since the last `keep`. */
  undo(): void {
    this.rewind(0);
  }

  /** Replaces the whole state, as kept from `cells`. */
  restore(cells: Float64Array): void {
    this.cells.set(cells);
    this.keep();
  }

  protected add(cell: number, change: number): void {
    if (change === 0) return;
    this.write(cell, this.cells[cell]! + change);
  }

  protected write(cell: number, value: number): void {
    if (this.#logged === this.#logCells.length) this.#growLog();
    this.#logCells[this.#logged] = cell;
    this.#logValues[this.#logged] = this.cells[cell]!;
    this.#logged += 1;
    this.cells[cell] = value;
  }

  /** How much has been done, for `rewind` to go back to. */
  protected mark(): number {
    return this.#logged;
  }

  protected rewind(mark: number): void {
    for (let entry = this.#logged - 1; entry >= mark; entry--) {
      this.cells[this.#logCells[entry]!] = this.#logValues[entry]!;
    }
    this.#logged = mark;
  }

  #growLog(): void {
    const cells = new Int32Array(this.#logCells.length * 2);
    const values = new Float64Array(this.#logValues.length * 2);
    cells.set(this.#logCells);
    values.set(this.#logValues);
    this.#logCells = cells;
    this.#logValues = values;
  }
}

export function blockOf(session: number): number {
  return Math.floor(session / blockSessions);
}
