import type { Instance } from "./instance.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";

/**
 * Shares of the ways to ruin, each added to those before it: found by comparing what searches of equal length came to. The
 * rest go to `#scattered`.
 */
const upTo = { exchange: 0.35, moveRun: 0.55, session: 0.65, lateOrder: 0.77, latePieces: 0.88, blend: 0.92 };
/** Most moves stay near: a change a few sessions off leaves more of the schedule as good as it was than one far away. */
const nearShare = 0.8;
const nearSessions = 5;
/** Of near moves, those to an earlier session. */
const earlierShare = 0.6;
/** Sessions that exchange runs: two, each further one with this chance, and at most so many. */
const furtherShare = 0.4;
const mostExchanging = 6;
/** Of their runs, those that move, and of these, those that are wished into the next of the sessions. */
const mostMoveShare = 0.7;
const followShare = 0.8;
/** Where sessions hold many runs, about so many of them move: what a whole day gives is too much to put back at once. */
const runsMoving = 8;

/**
 * Ways of taking pieces out of a schedule so that others may come in. Each leaves the orders it touched in `touched`;
 * their lines then miss units.
 */
export class Ruin {
  readonly touched: Int32Array;
  count = 0;
  /** By blend: the session a moved run should open in, -1 for no wish. */
  readonly wishes: Int32Array;
  readonly #schedule: Schedule;
  readonly #random: Random;
  readonly #isTouched: Uint8Array;
  /** Lines of blend `b`: `#linesOfBlend[#firstOfBlend[b]] ..`. */
  readonly #linesOfBlend: Int32Array;
  readonly #firstOfBlend: Int32Array;
  readonly #mixingSessions: readonly number[];
  readonly #exchanging: number[] = [];

  constructor(schedule: Schedule, random: Random) {
    this.#schedule = schedule;
    this.#random = random;
    const { instance } = schedule;
    this.touched = new Int32Array(instance.orders);
    this.#isTouched = new Uint8Array(instance.orders);
    this.#mixingSessions = [...instance.bowlRoom.keys()].filter((session) => instance.bowlRoom[session]! > 0);
    this.wishes = new Int32Array(instance.blends).fill(-1);
    this.#firstOfBlend = new Int32Array(instance.blends + 1);
    this.#linesOfBlend = Int32Array.from({ length: instance.lines }, (_, line) => line).sort(
      (a, b) => blendOfLine(instance, a) - blendOfLine(instance, b) || a - b,
    );
    for (const line of this.#linesOfBlend) this.#firstOfBlend[blendOfLine(instance, line) + 1]! += 1;
    for (let blend = 0; blend < instance.blends; blend++) {
      this.#firstOfBlend[blend + 1]! += this.#firstOfBlend[blend]!;
    }
  }

  /** Takes something out by a way chosen at random; false when the rest can't stand without it. */
  strike(): boolean {
    this.forget();
    if (this.#schedule.instance.lines === 0) return true;
    const way = this.#random.fraction();
    if (way < upTo.exchange) this.#exchangeSessions();
    else if (way < upTo.moveRun) this.#moveRun();
    else if (way < upTo.session) this.#linesOfSession(this.#few(13));
    else if (way < upTo.lateOrder) this.#beforeLateOrder(this.#few(6));
    else if (way < upTo.latePieces) this.#beforeLatestPieces(this.#few(6));
    else if (way < upTo.blend) this.#sameBlend(this.#few(5));
    else this.#scattered(this.#few(6));
    this.#addUnserved(this.#random.below(3));
    return this.#schedule.settleRuns();
  }

  /** From one to the most, the fewer the likelier. */
  #few(most: number): number {
    return 1 + this.#random.below(1 + this.#random.below(most));
  }

  /** Forgets what was touched and wished for. */
  forget(): void {
    for (let at = 0; at < this.count; at++) this.#isTouched[this.touched[at]!] = 0;
    this.count = 0;
    this.wishes.fill(-1);
  }

  #touch(order: number): void {
    if (this.#isTouched[order] === 1) return;
    this.#isTouched[order] = 1;
    this.touched[this.count] = order;
    this.count += 1;
  }

  #takeOut(order: number): void {
    if (this.#isTouched[order] === 1) return;
    this.#touch(order);
    this.#schedule.clear(order);
  }

  #scattered(size: number): void {
    const { orders } = this.#schedule.instance;
    for (let at = 0; at < size; at++) this.#takeOut(this.#random.below(orders));
  }

  /** What one run gives to its orders, with a wish for another session; now and then a run there makes room for it. */
  #moveRun(): void {
    const { instance } = this.#schedule;
    const line = this.#formedLine();
    const from = this.#formedSession(line);
    if (from < 0) return;
    const blend = blendOfLine(instance, line);
    this.#unformRun(blend, from);
    if (this.#random.fraction() < 0.25) return;
    const to = this.#otherSession(from);
    this.wishes[blend] = to;
    if (this.#random.fraction() < 0.5) return;
    const other = this.#runIn(to);
    if (other < 0 || other === blend) return;
    this.#unformRun(other, to);
    if (this.#random.fraction() < 0.5) this.wishes[other] = from;
  }

  /**
   * What the runs of a few sessions give, with a wish for the next of these sessions, those of the last for the first: what
   * an exchange of two runs alone would make worse before a third makes it better is one move here.
   */
  #exchangeSessions(): void {
    const { cells, instance, bowls } = this.#schedule;
    const first = this.#formedSession(this.#formedLine());
    if (first < 0) return;
    this.#exchanging.length = 0;
    let session = first;
    for (let at = 0; at < mostExchanging; at++) {
      if (at > 1 && this.#random.fraction() >= furtherShare) break;
      if (!this.#exchanging.includes(session)) this.#exchanging.push(session);
      session = this.#otherSession(session);
    }
    const isRun = (blend: number, from: number) => cells[bowls + blend * instance.sessions + from]! > 0;
    let runs = 0;
    for (const from of this.#exchanging) {
      for (let blend = 0; blend < instance.blends; blend++) if (isRun(blend, from)) runs += 1;
    }
    const moveShare = Math.min(mostMoveShare, runsMoving / runs);
    for (const [at, from] of this.#exchanging.entries()) {
      const to = this.#exchanging[(at + 1) % this.#exchanging.length]!;
      for (let blend = 0; blend < instance.blends; blend++) {
        if (!isRun(blend, from) || this.#random.fraction() >= moveShare) continue;
        this.#unformRun(blend, from);
        if (this.#random.fraction() < followShare) this.wishes[blend] = to;
      }
    }
  }

  /** A mixing session, most likely a few before or after the given one. */
  #otherSession(from: number): number {
    const mixing = this.#mixingSessions;
    if (this.#random.fraction() >= nearShare) return mixing[this.#random.below(mixing.length)]!;
    let at = 0;
    while (mixing[at]! < from) at += 1;
    const step = 1 + this.#random.below(nearSessions);
    at += this.#random.fraction() < earlierShare ? -step : step;
    return mixing[Math.min(mixing.length - 1, Math.max(0, at))]!;
  }

  /** A line drawn by chance, most likely one that has been formed. */
  #formedLine(): number {
    const { instance, cells, served } = this.#schedule;
    let line = this.#random.below(instance.lines);
    for (let draw = 0; draw < 4 && cells[served + line] === 0; draw++)
      line = this.#random.below(instance.lines);
    return line;
  }

  /** A session in which a line is formed, or -1. */
  #formedSession(line: number): number {
    const { instance, cells, made } = this.#schedule;
    const offset = this.#random.below(instance.sessions);
    for (let step = 0; step < instance.sessions; step++) {
      const session = (offset + step) % instance.sessions;
      if (cells[made + line * instance.sessions + session]! > 0) return session;
    }
    return -1;
  }

  /** A blend that has a run in the session, or -1. */
  #runIn(session: number): number {
    const { instance, cells, bowls } = this.#schedule;
    const offset = this.#random.below(instance.blends);
    for (let step = 0; step < instance.blends; step++) {
      const blend = (offset + step) % instance.blends;
      if (cells[bowls + blend * instance.sessions + session]! > 0) return blend;
    }
    return -1;
  }

  #unformRun(blend: number, session: number): void {
    const { instance, cells, made } = this.#schedule;
    for (let at = this.#firstOfBlend[blend]!; at < this.#firstOfBlend[blend + 1]!; at++) {
      const line = this.#linesOfBlend[at]!;
      if (cells[made + line * instance.sessions + session] === 0) continue;
      this.#schedule.unform(line, session);
      this.#touch(instance.lineOrder[line]!);
    }
  }

  /** Some of what one session gives, the rest of those orders staying. */
  #linesOfSession(size: number): void {
    const { instance, cells, made } = this.#schedule;
    const session = this.#formedSession(this.#formedLine());
    if (session < 0) return;
    const offset = this.#random.below(instance.lines);
    let left = size;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      if (cells[made + line * instance.sessions + session] === 0) continue;
      this.#schedule.unform(line, session);
      this.#touch(instance.lineOrder[line]!);
      left -= 1;
    }
  }

  /** A costly order, and others formed in or about a session that could have served it earlier. */
  #beforeLateOrder(size: number): void {
    const { instance } = this.#schedule;
    const order = this.#costly();
    const first = instance.firstLine[order]!;
    const lines = instance.firstLine[order + 1]! - first;
    if (lines === 0) return;
    const last = this.#formedSession(first + this.#random.below(lines));
    this.#takeOut(order);
    this.#makeRoomAbout(this.#sessionBefore(last), size - 1, true);
  }

  /**
   * Only what a costly order waits for last, and only what others have formed in or about a session before: the rest of all
   * these orders stays, so that the change is small.
   */
  #beforeLatestPieces(size: number): void {
    const { instance, cells, made } = this.#schedule;
    const order = this.#costly();
    let latest = -1;
    let latestDay = Number.NEGATIVE_INFINITY;
    this.#touch(order);
    for (let line = instance.firstLine[order]!; line < instance.firstLine[order + 1]!; line++) {
      for (let session = 0; session < instance.sessions; session++) {
        if (cells[made + line * instance.sessions + session] === 0) continue;
        const day = this.#readyDay(line, session);
        if (day <= latestDay) continue;
        latest = session;
        latestDay = day;
      }
    }
    for (let line = instance.firstLine[order]!; line < instance.firstLine[order + 1]!; line++) {
      for (let session = 0; session < instance.sessions; session++) {
        if (cells[made + line * instance.sessions + session] === 0) continue;
        if (this.#readyDay(line, session) === latestDay) this.#schedule.unform(line, session);
      }
    }
    this.#makeRoomAbout(this.#sessionBefore(latest), size - 1, false);
  }

  #readyDay(line: number, session: number): number {
    const { instance } = this.#schedule;
    return instance.readyDay[instance.shapeOf[instance.lineProduct[line]!]! * instance.sessions + session]!;
  }

  /** Takes out so many lines that are formed in or about a session: their orders whole, or no more than is formed there. */
  #makeRoomAbout(session: number, count: number, takesWhole: boolean): void {
    const { instance, cells, made } = this.#schedule;
    const reach = this.#random.below(2);
    const from = Math.max(0, session - reach);
    const to = Math.min(instance.sessions - 1, session + reach);
    const offset = this.#random.below(instance.lines);
    let left = count;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      for (let at = from; at <= to; at++) {
        if (cells[made + line * instance.sessions + at] === 0) continue;
        if (takesWhole) this.#takeOut(instance.lineOrder[line]!);
        else {
          this.#schedule.unform(line, at);
          this.#touch(instance.lineOrder[line]!);
        }
        left -= 1;
        break;
      }
    }
  }

  /** A session up to the given one, most likely not long before it; any where there is none. */
  #sessionBefore(last: number): number {
    if (last < 0) return this.#random.below(this.#schedule.instance.sessions);
    if (this.#random.fraction() >= nearShare) return this.#random.below(last + 1);
    return Math.max(0, last - this.#random.below(nearSessions));
  }

  /** An order drawn with a liking for costly ones. */
  #costly(): number {
    const { cells, orderCost, instance } = this.#schedule;
    let best = this.#random.below(instance.orders);
    for (let draw = 0; draw < 2; draw++) {
      const other = this.#random.below(instance.orders);
      if (cells[orderCost + other]! > cells[orderCost + best]!) best = other;
    }
    return best;
  }

  #sameBlend(size: number): void {
    const { instance } = this.#schedule;
    const blend = blendOfLine(instance, this.#random.below(instance.lines));
    const first = this.#firstOfBlend[blend]!;
    const lines = this.#firstOfBlend[blend + 1]! - first;
    const offset = this.#random.below(lines);
    for (let step = 0; step < Math.min(size, lines); step++) {
      const line = this.#linesOfBlend[first + ((offset + step) % lines)]!;
      this.#takeOut(instance.lineOrder[line]!);
    }
  }

  /** Orders that have nothing or not enough get another chance with every ruin. */
  #addUnserved(most: number): void {
    const { instance, cells, served } = this.#schedule;
    const offset = this.#random.below(instance.lines);
    let left = most;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      if (cells[served + line] === instance.lineUnits[line]) continue;
      if (this.#isTouched[instance.lineOrder[line]!] === 1) continue;
      this.#touch(instance.lineOrder[line]!);
      left -= 1;
    }
  }
}

function blendOfLine(instance: Instance, line: number): number {
  return instance.blendOf[instance.lineProduct[line]!]!;
}
