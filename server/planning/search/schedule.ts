import type { Instance } from "./instance.ts";
import { lastDay, latenessCost } from "./lateness.ts";
import { blockOf, blockSessions, ScheduleState } from "./scheduleState.ts";
import { Worth } from "./worth.ts";

/** What `Schedule.probe` found: how many pieces fit, and the worth of the room they would take, filler included. */
export class Probe {
  // No small integers from the start: if they became fractions on the way, compiled code would be thrown away.
  units = Number.NaN;
  worth = Number.NaN;
}

/**
 * A schedule under construction. Decisions are units of an order line formed in a session, or taken from stock or from
 * what is drying. Everything else follows: bowls are as few as the weight allows, and where the weight is below what
 * they need, filler pieces are added at once. Every limit holds at all times.
 */
export class Schedule extends ScheduleState {
  readonly probed = new Probe();
  readonly worth: Worth;

  /** What has been unformed since the last `keep` or `undo`, each as `line * sessions + session`. */
  readonly unformed: number[] = [];

  /** Whether it insists on any order: otherwise the lateness of all need not be added up. */
  #insists = false;
  #dirty: number[] = [];
  #checkpoint = 0;
  #unformedThen = 0;
  /**
   * Filler found last: product and pieces, and those of a second product where the first has too little room. Pieces are no
   * small integers from the start: if they became doubles on the way, all code compiled for schedules would be thrown away.
   */
  #fillProduct = -1;
  #fillUnits = Number.NaN;
  #otherProduct = -1;
  #otherUnits = Number.NaN;

  constructor(instance: Instance) {
    super(instance);
    this.worth = new Worth(instance);
    this.#repriceAll();
  }

  override keep(): void {
    super.keep();
    this.unformed.length = 0;
  }

  override undo(): void {
    super.undo();
    this.#dirty.length = 0;
    this.unformed.length = 0;
  }

  /** Replaces the whole state, as kept from `cells`, and prices it as the search insists on its orders now. */
  override restore(cells: Float64Array): void {
    super.restore(cells);
    this.#repriceAll();
  }

  /** What the lateness of all orders costs by the case, in unit-days, whatever the search insists on. */
  get lateness(): number {
    const { cells, insistence } = this;
    if (!this.#insists) return cells[this.cost]!;
    let sum = 0;
    for (let order = 0; order < insistence.length; order++) {
      sum += cells[this.orderCost + order]! / insistence[order]!;
    }
    return sum;
  }

  /** Lets an order count so many times what its lateness costs by the case. Not to be taken back by `undo`. */
  insistOn(order: number, times: number): void {
    this.#insists = true;
    this.insistence[order] = times;
    this.reprice(order);
    this.keep();
  }

  /** Lets all orders count what their lateness costs by the case. Not to be taken back by `undo`. */
  insistNoMore(): void {
    this.#insists = false;
    this.insistence.fill(1);
    this.#repriceAll();
  }

  #repriceAll(): void {
    for (let order = 0; order < this.instance.orders; order++) this.reprice(order);
    this.keep();
  }

  /** Remembers how the schedule stands, for `undoToCheckpoint`. All runs must be settled. */
  checkpoint(): void {
    this.#checkpoint = this.mark();
    this.#unformedThen = this.unformed.length;
  }

  /** Takes back everything since the last `checkpoint`, which must be younger than the last `keep` or `undo`. */
  undoToCheckpoint(): void {
    this.rewind(this.#checkpoint);
    this.#dirty.length = 0;
    this.unformed.length = this.#unformedThen;
  }

  /** Values everything anew after `worth` has changed. Not to be taken back by `undo`. */
  revalue(): void {
    const { instance, cells, worth } = this;
    const { sessions } = instance;
    worth.sumPieces();
    let used = 0;
    for (let product = 0; product < instance.products; product++) {
      const first = instance.shapeOf[product]! * sessions;
      for (let session = 0; session < sessions; session++) {
        const units = cells[this.units + product * sessions + session]!;
        if (units > 0) used += units * worth.pieces[first + session]!;
      }
    }
    for (let run = 0; run < instance.blends * sessions; run++) {
      const bowls = cells[this.bowls + run]!;
      if (bowls === 0) continue;
      used += (bowls * instance.mixTicks + instance.cleanTicks) * worth.hands[run % sessions]!;
    }
    cells[this.worthUsed] = used;
  }

  /** Values a tick of hands the same in every session, and nothing else. */
  valueHands(tickPrice: number): void {
    this.worth.hands.fill(tickPrice);
    this.worth.molds.fill(0);
    this.worth.trays.fill(0);
    this.revalue();
  }

  missing(line: number): number {
    return this.instance.lineUnits[line]! - this.cells[this.served + line]!;
  }

  /** True where no session of the block that begins with this one has a bowl left, nor a run of the blend. */
  isBlockShut(blend: number, session: number): boolean {
    const { cells, instance } = this;
    const block = blockOf(session);
    if (cells[this.openInBlock + block]! > 0) return false;
    return cells[this.runsInBlock + blend * Math.ceil(instance.sessions / blockSessions) + block]! === 0;
  }

  /**
   * True where a session clearly has no room for a piece: no bowl or no hands to open a run, no mold. A quick look before
   * a probe, for most sessions of a tight week are full.
   */
  isShut(product: number, blend: number, session: number): boolean {
    const { cells, instance } = this;
    const run = blend * instance.sessions + session;
    const bowls = cells[this.bowls + run]!;
    const shape = instance.shapeOf[product]!;
    let hands = cells[this.handLeft + session]! - instance.formTicks[shape]! - instance.turnTicks[shape]!;
    if (bowls === 0) {
      hands -= instance.mixTicks + instance.cleanTicks;
      if (hands < 0 || cells[this.bowlLeft + session]! < 1) return true;
    } else {
      if (cells[this.fillers + run]! > 0) return false;
      if (hands < 0) return true;
      if (
        cells[this.bowlLeft + session]! < 1 &&
        cells[this.weight + run]! + instance.weightOf[product]! > bowls * instance.bowlGrams
      )
        return true;
    }
    return instance.holdsMold[shape] === 1 && cells[this.moldLeft + shape * instance.sessions + session]! < 1;
  }

  /**
   * Finds how many of `want` pieces of a product can be formed in a session besides what is there, and the worth of the
   * room they would take. The result is in `probed`; `probed.units` 0 means none.
   */
  probe(product: number, session: number, want: number): void {
    const instance = this.instance;
    const cells = this.cells;
    const probed = this.probed;
    probed.units = 0;
    probed.worth = 0;
    const sessions = instance.sessions;
    const shape = instance.shapeOf[product]!;
    if (instance.pack[shape * sessions + session]! < 0) return;
    const run = instance.blendOf[product]! * sessions + session;
    const bowls = cells[this.bowls + run]!;
    const entryTicks = bowls === 0 ? instance.mixTicks + instance.cleanTicks : 0;
    if (bowls === 0 && (cells[this.bowlLeft + session]! < 1 || cells[this.handLeft + session]! < entryTicks))
      return;

    const hadFillers = cells[this.fillers + run]! > 0;
    if (!hadFillers) {
      const most = this.#roomBesideBowls(product, session, want);
      if (most > 0) this.#fitBowls(product, session, most, run);
      return;
    }
    const mark = this.mark();
    const worthBefore = cells[this.worthUsed]!;
    this.#liftFillers(run, session);
    const lifted = worthBefore - cells[this.worthUsed]!;
    const most = this.#roomBesideBowls(product, session, want);
    if (most > 0) this.#fitBowls(product, session, most, run);
    if (probed.units > 0) probed.worth -= lifted;
    this.rewind(mark);
  }

  /** Forms pieces for a line in a session; `units` must be what a probe allowed. */
  form(line: number, session: number, units: number): void {
    const product = this.instance.lineProduct[line]!;
    const run = this.instance.blendOf[product]! * this.instance.sessions + session;
    this.#liftFillers(run, session);
    this.add(this.made + line * this.instance.sessions + session, units);
    this.add(this.served + line, units);
    this.#press(product, session, units);
    if (!this.#settle(run, session)) throw new Error("a probe promised room that is not there");
  }

  /** Takes back what is formed for a line in a session. `settleRuns` must follow before anything is formed. */
  unform(line: number, session: number): void {
    const cell = this.made + line * this.instance.sessions + session;
    const units = this.cells[cell]!;
    const product = this.instance.lineProduct[line]!;
    this.write(cell, 0);
    this.add(this.served + line, -units);
    this.#press(product, session, -units);
    this.unformed.push(cell - this.made);
    this.#dirty.push(this.instance.blendOf[product]! * this.instance.sessions + session);
  }

  /** Forms pieces without asking for room, as a known plan says. `settleRuns` must follow. */
  adopt(line: number, session: number, units: number): void {
    const product = this.instance.lineProduct[line]!;
    this.add(this.made + line * this.instance.sessions + session, units);
    this.add(this.served + line, units);
    this.#press(product, session, units);
    this.#dirty.push(this.instance.blendOf[product]! * this.instance.sessions + session);
  }

  /** True where some limit is overstepped or some supply overdrawn: possible only after `adopt` and `take`. */
  isOverfull(): boolean {
    const ready = this.cells.subarray(this.readyLeft, this.units);
    const rooms = this.cells.subarray(this.moldLeft, this.openInBlock);
    return ready.some((left) => left < 0) || rooms.some((left) => left < 0);
  }

  /** Gives runs that lost pieces the bowls and the filler they need; false where no filler fits, and then only `undo` helps. */
  settleRuns(): boolean {
    for (const run of this.#dirty) {
      const session = run % this.instance.sessions;
      this.#liftFillers(run, session);
      if (!this.#settle(run, session)) return false;
    }
    this.#dirty.length = 0;
    return true;
  }

  /** Takes units of a ready supply (an index into the instance's list) for a line. */
  take(line: number, ready: number, units: number): void {
    const first = this.instance.firstReady[this.instance.lineProduct[line]!]!;
    this.add(this.taken + this.takenOfLine[line]! + ready - first, units);
    this.add(this.served + line, units);
    this.add(this.readyLeft + ready, -units);
  }

  /** Gives back all a line takes of a ready supply. */
  giveBack(line: number, ready: number): void {
    const first = this.instance.firstReady[this.instance.lineProduct[line]!]!;
    const units = this.cells[this.taken + this.takenOfLine[line]! + ready - first]!;
    if (units > 0) this.take(line, ready, -units);
  }

  /** Gives back everything an order has. `settleRuns` must follow before anything is formed. */
  clear(order: number): void {
    const { firstLine } = this.instance;
    for (let line = firstLine[order]!; line < firstLine[order + 1]!; line++) this.clearLine(line);
  }

  clearLine(line: number): void {
    const { instance, cells } = this;
    if (cells[this.served + line] === 0) return;
    const product = instance.lineProduct[line]!;
    for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
      this.giveBack(line, ready);
    }
    const first = this.made + line * instance.sessions;
    for (let session = 0; cells[this.served + line]! > 0; session++) {
      if (cells[first + session]! > 0) this.unform(line, session);
    }
  }

  /** Works out anew when an order is ready and what its lateness costs. */
  reprice(order: number): void {
    const cell = this.orderCost + order;
    let short = 0;
    for (let line = this.instance.firstLine[order]!; line < this.instance.firstLine[order + 1]!; line++) {
      short += this.missing(line);
    }
    const last = short > 0 ? Number.POSITIVE_INFINITY : lastDay(this, order);
    if (this.cells[this.readyOn + order] !== last) this.write(this.readyOn + order, last);
    const cost = latenessCost(this, order, short, last);
    const change = cost - this.cells[cell]!;
    if (change === 0) return;
    this.write(cell, cost);
    this.add(this.cost, change);
  }

  /** Most pieces, up to `want`, by molds, trays and the hands of the sessions after the one they are formed in. */
  #roomBesideBowls(product: number, session: number, want: number): number {
    const { instance, cells } = this;
    const sessions = instance.sessions;
    const shape = instance.shapeOf[product]!;
    const unmold = instance.unmold[shape * sessions + session]!;
    const pack = instance.pack[shape * sessions + session]!;
    let most = want;
    if (instance.holdsMold[shape] === 1) {
      const molds = this.moldLeft + shape * sessions;
      for (let at = session; at < unmold; at++) {
        if (cells[molds + at]! < most) most = cells[molds + at]!;
      }
      if (most <= 0) return 0;
    }
    let trays = cells[this.trayLeft + session]!;
    for (let at = session + 1; at < pack; at++) {
      if (cells[this.trayLeft + at]! < trays) trays = cells[this.trayLeft + at]!;
    }
    const perTray = instance.unitsPerTray[shape]!;
    const lying = cells[this.units + product * sessions + session]!;
    const onTrays = (trays + Math.ceil(lying / perTray)) * perTray - lying;
    if (onTrays < most) most = onTrays;
    const turn = instance.turnTicks[shape]!;
    for (let at = session + 1; at < unmold; at++) {
      if (cells[this.handLeft + at]! < most * turn) most = Math.floor(cells[this.handLeft + at]! / turn);
    }
    const atUnmold = instance.unmoldTicks[shape]! + (pack === unmold ? instance.packTicks[shape]! : 0);
    const unmoldHands = cells[this.handLeft + unmold]!;
    if (unmoldHands < most * atUnmold) most = Math.floor(unmoldHands / atUnmold);
    if (pack !== unmold) {
      const packHands = cells[this.handLeft + pack]!;
      const atPack = instance.packTicks[shape]!;
      if (packHands < most * atPack) most = Math.floor(packHands / atPack);
    }
    return most;
  }

  /** Pieces that fit the bowls and hands of the session itself, the run having no filler; fills in `probed`. */
  #fitBowls(product: number, session: number, most: number, run: number): void {
    const { instance, cells, probed } = this;
    const shape = instance.shapeOf[product]!;
    const shapeSession = shape * instance.sessions + session;
    const perPiece = instance.formTicks[shape]! + instance.turnTicks[shape]!;
    const grams = instance.weightOf[product]!;
    const base = cells[this.bowls + run]!;
    const weight = cells[this.weight + run]!;
    const setup = base === 0 ? instance.cleanTicks : 0;
    const hands = cells[this.handLeft + session]! - setup;
    const bowlGrams = instance.bowlGrams;
    const mixTicks = instance.mixTicks;

    // An upper bound that counts parts of bowls; from there whole bowls are given up until the hands suffice.
    let units = most;
    const mixLeft = (base + cells[this.bowlLeft + session]!) * bowlGrams - weight;
    if (mixLeft < units * grams) units = Math.floor(mixLeft / grams);
    const handsPerPiece = perPiece + (mixTicks * grams) / bowlGrams;
    const handsAtMost = hands + mixTicks * (base - weight / bowlGrams);
    if (handsAtMost < units * handsPerPiece) units = Math.floor(handsAtMost / handsPerPiece);
    let extra = 0;
    while (units > 0) {
      extra = Math.max(base === 0 ? 1 : 0, Math.ceil((weight + units * grams) / bowlGrams) - base);
      const handsLeft = hands - extra * mixTicks;
      if (handsLeft >= units * perPiece) break;
      const byHands = handsLeft < 0 ? 0 : Math.floor(handsLeft / perPiece);
      const byFewerBowls = Math.floor(((base + extra - 1) * bowlGrams - weight) / grams);
      units = Math.min(units - 1, Math.max(byHands, byFewerBowls));
    }
    while (units > 0) {
      const total = weight + units * grams;
      const need = (base + extra) * instance.minBowlGrams - total;
      if (need <= 0) {
        probed.units = units;
        probed.worth =
          units * this.worth.pieces[shapeSession]! + (extra * mixTicks + setup) * this.worth.hands[session]!;
        return;
      }
      const mark = this.mark();
      const before = cells[this.worthUsed]!;
      this.#press(product, session, units);
      this.#setBowls(run, session, base + extra);
      const filled = this.#findFiller(run, session, need);
      const fillWorth = filled ? this.#worthOfFiller(session) : 0;
      const added = cells[this.worthUsed]! - before;
      this.rewind(mark);
      if (filled) {
        probed.units = units;
        probed.worth = added + fillWorth;
        return;
      }
      extra -= 1;
      if (base + extra < 1 || extra < 0) return;
      units = Math.min(units, Math.floor(((base + extra) * bowlGrams - weight) / grams));
    }
  }

  /** Bowls for a run without filler, and the filler they need. */
  #settle(run: number, session: number): boolean {
    const { instance, cells } = this;
    const blend = (run - session) / instance.sessions;
    let pieces = 0;
    for (let at = instance.firstProduct[blend]!; at < instance.firstProduct[blend + 1]!; at++) {
      pieces += cells[this.units + instance.productsOfBlend[at]! * instance.sessions + session]!;
    }
    if (pieces === 0) {
      this.#setBowls(run, session, 0);
      return true;
    }
    const weight = cells[this.weight + run]!;
    const bowls = Math.max(1, Math.ceil(weight / instance.bowlGrams));
    this.#setBowls(run, session, bowls);
    const need = bowls * instance.minBowlGrams - weight;
    if (need <= 0) return true;
    if (!this.#findFiller(run, session, need)) return false;
    this.#pressFiller(this.#fillProduct, this.#fillUnits, run, session);
    if (this.#otherUnits > 0) this.#pressFiller(this.#otherProduct, this.#otherUnits, run, session);
    return true;
  }

  #pressFiller(product: number, units: number, run: number, session: number): void {
    this.#press(product, session, units);
    this.add(this.filler + product * this.instance.sessions + session, units);
    this.add(this.fillers + run, units);
  }

  #worthOfFiller(session: number): number {
    const { sessions, shapeOf } = this.instance;
    const { pieces } = this.worth;
    const worth = this.#fillUnits * pieces[shapeOf[this.#fillProduct]! * sessions + session]!;
    if (this.#otherUnits === 0) return worth;
    return worth + this.#otherUnits * pieces[shapeOf[this.#otherProduct]! * sessions + session]!;
  }

  /**
   * The least work that brings a run to its least weight with pieces of one product, or, where a product that would be
   * less work has not the room, with all that fit of it and pieces of another.
   */
  #findFiller(run: number, session: number, need: number): boolean {
    const { instance, cells } = this;
    const blend = (run - session) / instance.sessions;
    const mixLeft = cells[this.bowls + run]! * instance.bowlGrams - cells[this.weight + run]!;
    let least = Number.POSITIVE_INFINITY;
    let cramped = -1;
    let crampedUnits = 0;
    this.#otherUnits = 0;
    for (let at = instance.firstProduct[blend]!; at < instance.firstProduct[blend + 1]!; at++) {
      const product = instance.productsOfBlend[at]!;
      const units = Math.ceil(need / instance.weightOf[product]!);
      const ticks = units * this.#ticksOf(product, session);
      if (!(ticks < least)) continue;
      const room = this.#roomForFiller(product, session, units, mixLeft);
      if (room >= units) {
        least = ticks;
        this.#fillProduct = product;
        this.#fillUnits = units;
      } else if (room > 0) {
        cramped = product;
        crampedUnits = room;
      }
    }
    if (cramped >= 0) this.#findSecondFiller(cramped, crampedUnits, session, need, mixLeft, least);
    return least < Number.POSITIVE_INFINITY || this.#otherUnits > 0;
  }

  /** Tries what fits of one product and, for the rest, each other product of its blend. */
  #findSecondFiller(
    cramped: number,
    units: number,
    session: number,
    need: number,
    mixLeft: number,
    leastSoFar: number,
  ): void {
    const { instance } = this;
    const blend = instance.blendOf[cramped]!;
    const grams = units * instance.weightOf[cramped]!;
    let least = leastSoFar - units * this.#ticksOf(cramped, session);
    const mark = this.mark();
    this.#press(cramped, session, units);
    for (let at = instance.firstProduct[blend]!; at < instance.firstProduct[blend + 1]!; at++) {
      const product = instance.productsOfBlend[at]!;
      if (product === cramped) continue;
      const rest = Math.ceil((need - grams) / instance.weightOf[product]!);
      const ticks = rest * this.#ticksOf(product, session);
      if (!(ticks < least) || this.#roomForFiller(product, session, rest, mixLeft - grams) < rest) continue;
      least = ticks;
      this.#fillProduct = cramped;
      this.#fillUnits = units;
      this.#otherProduct = product;
      this.#otherUnits = rest;
    }
    this.rewind(mark);
  }

  #ticksOf(product: number, session: number): number {
    const { pieceTicks, shapeOf, sessions } = this.instance;
    return pieceTicks[shapeOf[product]! * sessions + session]!;
  }

  /** Pieces of a product, up to `want`, that fit into a run whose bowls are open, so much mix being left. */
  #roomForFiller(product: number, session: number, want: number, mixLeft: number): number {
    const { instance, cells } = this;
    const shape = instance.shapeOf[product]!;
    if (instance.pack[shape * instance.sessions + session]! < 0) return 0;
    const perPiece = instance.formTicks[shape]! + instance.turnTicks[shape]!;
    const fit = Math.min(
      want,
      Math.floor(mixLeft / instance.weightOf[product]!),
      perPiece > 0 ? Math.floor(cells[this.handLeft + session]! / perPiece) : want,
    );
    return fit > 0 ? this.#roomBesideBowls(product, session, fit) : 0;
  }

  #liftFillers(run: number, session: number): void {
    const { instance, cells } = this;
    if (cells[this.fillers + run] === 0) return;
    const blend = (run - session) / instance.sessions;
    for (let at = instance.firstProduct[blend]!; at < instance.firstProduct[blend + 1]!; at++) {
      const product = instance.productsOfBlend[at]!;
      const cell = this.filler + product * instance.sessions + session;
      const units = cells[cell]!;
      if (units === 0) continue;
      this.write(cell, 0);
      this.#press(product, session, -units);
    }
    this.write(this.fillers + run, 0);
  }

  /** Adds pieces (or takes them away) with all that hangs on them but the bowls. */
  #press(product: number, session: number, units: number): void {
    const { instance, cells } = this;
    const sessions = instance.sessions;
    const shape = instance.shapeOf[product]!;
    const unmold = instance.unmold[shape * sessions + session]!;
    const pack = instance.pack[shape * sessions + session]!;
    const cell = this.units + product * sessions + session;
    const before = cells[cell]!;
    const after = before + units;
    this.write(cell, after);
    const perTray = instance.unitsPerTray[shape]!;
    const trays = Math.ceil(after / perTray) - Math.ceil(before / perTray);
    if (trays !== 0) {
      for (let at = session; at < pack; at++) this.add(this.trayLeft + at, -trays);
    }
    const turn = units * instance.turnTicks[shape]!;
    this.add(this.handLeft + session, -(units * instance.formTicks[shape]! + turn));
    for (let at = session + 1; at < unmold; at++) this.add(this.handLeft + at, -turn);
    if (instance.holdsMold[shape] === 1) {
      const molds = this.moldLeft + shape * sessions;
      for (let at = session; at < unmold; at++) this.add(molds + at, -units);
    }
    this.add(this.handLeft + unmold, -units * instance.unmoldTicks[shape]!);
    this.add(this.handLeft + pack, -units * instance.packTicks[shape]!);
    this.add(
      this.weight + instance.blendOf[product]! * sessions + session,
      units * instance.weightOf[product]!,
    );
    this.add(this.ticks, units * instance.pieceTicks[shape * sessions + session]!);
    this.add(this.worthUsed, units * this.worth.pieces[shape * sessions + session]!);
  }

  #setBowls(run: number, session: number, bowls: number): void {
    const before = this.cells[this.bowls + run]!;
    if (before === bowls) return;
    const { instance } = this;
    const cleaning = (bowls > 0 ? instance.cleanTicks : 0) - (before > 0 ? instance.cleanTicks : 0);
    const ticks = (bowls - before) * instance.mixTicks + cleaning;
    this.write(this.bowls + run, bowls);
    const leftBefore = this.cells[this.bowlLeft + session]!;
    const left = leftBefore + before - bowls;
    this.write(this.bowlLeft + session, left);
    const block = blockOf(session);
    if (left > 0 !== leftBefore > 0) this.add(this.openInBlock + block, left > 0 ? 1 : -1);
    if (bowls > 0 !== before > 0) {
      const blend = (run - session) / instance.sessions;
      const blocks = Math.ceil(instance.sessions / blockSessions);
      this.add(this.runsInBlock + blend * blocks + block, bowls > 0 ? 1 : -1);
    }
    this.add(this.handLeft + session, -ticks);
    this.add(this.ticks, ticks);
    this.add(this.worthUsed, ticks * this.worth.hands[session]!);
  }
}
