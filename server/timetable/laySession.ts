import { type Bowl, bowlsOf, handMs } from "./bowls.ts";
import type { Entry, LotWork, SessionWork, Task, Trouble } from "./session.ts";
import { nextTurning } from "./turnings.ts";

/** A session laid out, and when each of its lots was last formed or turned in it. */
export interface LaidSession {
  readonly entries: readonly Entry[];
  readonly troubles: readonly Trouble[];
  readonly formed: ReadonlyMap<number, Date>;
  readonly turned: ReadonlyMap<number, Date>;
}

/** Trays first, as one works by habit; bowls first, which leaves the mixers waiting least. */
type Way = "trays-first" | "bowls-first";

/** The hands a session has side by side: enough to get its hand minutes into its length. */
export function handsOf({ startsAt, endsAt, handMinutes }: SessionWork["session"]): number {
  return Math.ceil((handMinutes * MINUTE_MS) / (endsAt.getTime() - startsAt.getTime()) - 1e-9);
}

/**
 * Lays the work of a session out on its hands and mixers. Of two ways the first that fits is taken; where neither does,
 * the one that runs over least.
 */
export function laySession(work: SessionWork): LaidSession {
  const traysFirst = new Floor(work, "trays-first").lay();
  if (traysFirst.overMs === 0 && traysFirst.leftOut === 0) return traysFirst.laid;
  const bowlsFirst = new Floor(work, "bowls-first").lay();
  const isBetter = bowlsFirst.overMs - traysFirst.overMs || bowlsFirst.leftOut - traysFirst.leftOut;
  return isBetter < 0 ? bowlsFirst.laid : traysFirst.laid;
}

interface Turning {
  readonly lot: LotWork;
  readonly dueMs: number;
}

/** Pieces of a lot still to be handled, from a moment on. */
interface Pile {
  readonly lot: LotWork;
  units: number;
  readonly fromMs: number;
}

/** A run whose bowls are all laid out and which waits for its clean-down. */
interface CleanDown {
  readonly runId: number;
  readonly fromMs: number;
  readonly ms: number;
}

/**
 * The session while it is filled, forward in time: whichever hands are free first take what comes first for them. Nothing
 * is ever laid before something that is there already, so hands and mixers never do two things at once.
 */
class Floor {
  readonly #work: SessionWork;
  readonly #way: Way;
  readonly #endMs: number;
  readonly #hands: number[];
  readonly #mixers: number[];
  readonly #bowls: Bowl[];
  readonly #cleanDowns: CleanDown[] = [];
  readonly #toUnmold: Pile[];
  readonly #toPack: Pile[];
  #turnings: Turning[] = [];
  readonly #entries: Entry[] = [];
  readonly #troubles: Trouble[] = [];
  readonly #formed = new Map<number, Date>();
  readonly #turned = new Map<number, Date>();
  /** Of each run with a bowl laid out: the end of its pressing so far, and its mixers. */
  readonly #laidRuns = new Map<number, { pressedMs: number; readonly mixers: Set<number> }>();
  /** Hand time that the planner does not count on. */
  #spareMs: number;
  #leftOut = 0;

  constructor(work: SessionWork, way: Way) {
    const { session, place, lots } = work;
    this.#work = work;
    this.#way = way;
    this.#endMs = session.endsAt.getTime();
    const from = work.from.getTime();
    this.#hands = Array.from({ length: handsOf(session) }, () => from);
    this.#mixers = Array.from({ length: work.workshop.mixers }, () => from);
    this.#bowls = work.runs.flatMap((run) => bowlsOf(run, work.shapes, work.workshop));
    this.#toUnmold = lots
      .filter(({ unmold }) => unmold === place)
      .map((lot) => ({ lot, units: lot.units, fromMs: from }));
    this.#toPack = lots
      .filter(({ pack, unmold }) => pack === place && unmold !== place)
      .map((lot) => ({ lot, units: lot.units, fromMs: from }));
    this.#spareMs = this.#handMsLeft() - this.#countedMs();
    for (const lot of this.#inMold()) this.#turnWhenDue(lot, lot.formedAt, lot.turnedAt);
  }

  lay() {
    if (this.#hands.length > 0) {
      this.#layBegun();
      if (this.#mixers.length === 0) this.#leaveBowls();
      while (this.#step());
    }
    const lastMs = Math.max(0, ...this.#entries.map(({ endsAt }) => endsAt.getTime()));
    const overMs = Math.max(0, lastMs - this.#endMs);
    return { overMs, leftOut: this.#leftOut, laid: this.#laid(overMs) };
  }

  #laid(overMs: number): LaidSession {
    const needed = this.#entries.reduce(
      (sum, { startsAt, endsAt }) =>
        sum + endsAt.getTime() - Math.max(startsAt.getTime(), this.#work.from.getTime()),
      0,
    );
    const left = this.#handMsLeft();
    if (this.#hands.length === 0 && this.#countedMs() > 0) this.#troubles.push({ kind: "no-hands" });
    else if (needed > left + ROUNDING_MS)
      this.#troubles.push({
        kind: "too-few-hand-minutes",
        needed: Math.ceil(needed / MINUTE_MS),
        there: Math.floor(left / MINUTE_MS),
      });
    if (overMs > 0)
      this.#troubles.push({
        kind: "runs-over",
        until: new Date(this.#endMs + overMs),
        minutes: Math.ceil(overMs / MINUTE_MS),
      });
    const entries = [...this.#entries].sort(
      (one, other) => one.startsAt.getTime() - other.startsAt.getTime() || one.hand - other.hand,
    );
    return { entries, troubles: this.#troubles, formed: this.#formed, turned: this.#turned };
  }

  /** Lets the hands that are free first do one thing, or wait; false when there is nothing left to do. */
  #step(): boolean {
    const atMs = Math.min(...this.#hands);
    if (atMs === Number.POSITIVE_INFINITY) return false;
    const hand = this.#hands.indexOf(atMs);
    this.#leaveOutTurnings(atMs);
    if (this.#clean(hand, atMs)) return true;
    const isLaid =
      this.#way === "trays-first"
        ? this.#turn(hand, atMs) ||
          this.#unmold(hand, atMs) ||
          this.#mix(hand, atMs) ||
          this.#pack(hand, atMs)
        : this.#mix(hand, atMs) ||
          this.#turn(hand, atMs) ||
          this.#unmold(hand, atMs) ||
          this.#pack(hand, atMs);
    if (!isLaid) this.#hands[hand] = this.#nextEvent(atMs);
    return true;
  }

  /** When something may come up for hands that have nothing to do; never, when nothing will. */
  #nextEvent(afterMs: number): number {
    const events = [
      ...this.#hands,
      ...this.#turnings.map(({ dueMs }) => dueMs),
      ...this.#toPack.map(({ fromMs }) => fromMs),
      this.#nextBowlMs(),
    ];
    return Math.min(...events.filter((ms) => ms > afterMs), Number.POSITIVE_INFINITY);
  }

  // What is in the bowl already.

  #layBegun(): void {
    const begun = this.#bowls.filter((bowl) => bowl.begun !== null);
    begun.forEach((bowl, place) => {
      this.#bowls.splice(this.#bowls.indexOf(bowl), 1);
      this.#layBegunBowl(bowl, place % this.#hands.length, place % Math.max(1, this.#mixers.length));
    });
  }

  #layBegunBowl(bowl: Bowl, hand: number, mixer: number): void {
    const { startedAt, mixedAt } = bowl.begun ?? { startedAt: this.#work.from, mixedAt: null };
    const fromMs = this.#work.from.getTime();
    const mixedMs = mixedAt?.getTime() ?? startedAt.getTime() + bowl.weighMs + bowl.mixMs;
    const freeMs = this.#hands[hand] ?? fromMs;
    const untilMs = Math.max(freeMs, mixedMs + bowl.pressMs);
    const mixerFromMs = Math.max(startedAt.getTime(), mixedMs - this.#bowlMs());
    const phases: readonly (readonly [Task, number, number])[] = [
      [{ kind: "weigh", runId: bowl.runId, bowl: bowl.bowl }, startedAt.getTime(), mixedMs - bowl.mixMs],
      [mixTask(bowl, mixer, mixerFromMs, this.#bowlMs()), mixedMs - bowl.mixMs, mixedMs],
      [pressTask(bowl), mixedMs, untilMs],
    ];
    for (const [task, startMs, endMs] of phases)
      if (endMs > fromMs && endMs > startMs) this.#write(task, hand, startMs, endMs);
    if (mixer in this.#mixers)
      this.#mixers[mixer] = Math.max(this.#mixers[mixer] ?? fromMs, mixerFromMs + this.#bowlMs());
    this.#hands[hand] = untilMs;
    this.#afterBowl(bowl, mixer, untilMs);
  }

  // Bowls.

  #bowlMs(): number {
    return this.#work.workshop.bowlMinutes * MINUTE_MS;
  }

  /** Weighing may begin before the mixer is tied up, where a bowl takes the hands longer than the mixer. */
  #leadMs({ weighMs, mixMs }: Bowl): number {
    return Math.max(0, weighMs + mixMs - this.#bowlMs());
  }

  /** From when on the next bowl may be begun; never, while there is none or its mixers wait for a clean-down. */
  #nextBowlMs(): number {
    const [next] = this.#bowls;
    return next ? Math.min(...this.#mixers) - this.#leadMs(next) : Number.POSITIVE_INFINITY;
  }

  #mix(hand: number, atMs: number): boolean {
    const [bowl] = this.#bowls;
    if (bowl === undefined || this.#nextBowlMs() > atMs) return false;
    if (this.#unmold(hand, atMs, this.#shapesOf(bowl))) return true;
    this.#bowls.shift();
    const mixer = this.#mixers.indexOf(Math.min(...this.#mixers));
    const mixMs = atMs + bowl.weighMs;
    const pressMs = mixMs + bowl.mixMs;
    const mixerFromMs = atMs + this.#leadMs(bowl);
    const endMs = pressMs + bowl.pressMs;
    if (bowl.weighMs > 0)
      this.#write({ kind: "weigh", runId: bowl.runId, bowl: bowl.bowl }, hand, atMs, mixMs);
    this.#write(mixTask(bowl, mixer, mixerFromMs, this.#bowlMs()), hand, mixMs, pressMs);
    if (bowl.pressMs > 0) this.#write(pressTask(bowl), hand, pressMs, endMs);
    this.#hands[hand] = endMs;
    this.#mixers[mixer] = mixerFromMs + this.#bowlMs();
    this.#afterBowl(bowl, mixer, endMs);
    return true;
  }

  /** Shapes whose molds must be free before the bowl can be pressed. */
  #shapesOf(bowl: Bowl): ReadonlySet<number> {
    const itsLots = new Set(bowl.pieces.map(({ lotId }) => lotId));
    const lots = this.#work.runs.flatMap((run) => run.lots).filter(({ lotId }) => itsLots.has(lotId));
    return new Set(lots.map(({ shapeId }) => shapeId));
  }

  /** The last bowl of a run: its lots are formed, and its mixers are cleaned before another blend goes in. */
  #afterBowl(bowl: Bowl, mixer: number, pressedMs: number): void {
    const laid = this.#laidRuns.get(bowl.runId) ?? { pressedMs: 0, mixers: new Set<number>() };
    laid.pressedMs = Math.max(laid.pressedMs, pressedMs);
    laid.mixers.add(mixer);
    this.#laidRuns.set(bowl.runId, laid);
    if (this.#bowls.some(({ runId }) => runId === bowl.runId)) return;
    this.#form(bowl.runId, laid.pressedMs);
    if (bowl.cleanMs === 0) return;
    this.#cleanDowns.push({ runId: bowl.runId, fromMs: laid.pressedMs, ms: bowl.cleanMs });
    for (const its of laid.mixers) this.#mixers[its] = Number.POSITIVE_INFINITY;
  }

  #clean(hand: number, atMs: number): boolean {
    const place = this.#cleanDowns.findIndex(({ fromMs }) => fromMs <= atMs);
    const [cleanDown] = place < 0 ? [] : this.#cleanDowns.splice(place, 1);
    if (cleanDown === undefined) return false;
    const endMs = atMs + cleanDown.ms;
    this.#do({ kind: "clean", runId: cleanDown.runId }, hand, atMs, endMs);
    const { mixers } = this.#laidRuns.get(cleanDown.runId) ?? { mixers: [] };
    const tiedMs = this.#entries.map((entry) =>
      entry.kind === "mix" && entry.runId === cleanDown.runId ? entry.mixerUntil.getTime() : 0,
    );
    for (const mixer of mixers) this.#mixers[mixer] = Math.max(endMs, ...tiedMs);
    return true;
  }

  #leaveBowls(): void {
    if (this.#bowls.length > 0) this.#troubles.push({ kind: "no-mixer" });
    this.#bowls.length = 0;
  }

  // Turnings.

  /** Lots that lie in their molds in this session and stay there. */
  #inMold(): readonly LotWork[] {
    const { lots, place } = this.#work;
    return lots.filter(
      ({ unmold, isResting, shape }) =>
        !isResting && (unmold === null || unmold > place) && shape.turnSeconds > 0,
    );
  }

  #form(runId: number, atMs: number): void {
    const formedAt = new Date(atMs);
    const run = this.#work.runs.find((one) => one.runId === runId);
    const itsLots = new Set(run?.lots.map(({ lotId }) => lotId));
    for (const { lotId } of this.#work.lots.filter((lot) => lot.formedAt === null && itsLots.has(lot.lotId)))
      this.#formed.set(lotId, formedAt);
    for (const lot of this.#inMold())
      if (this.#formed.has(lot.lotId) && itsLots.has(lot.lotId)) this.#turnWhenDue(lot, formedAt, null);
  }

  /**
   * The lot's next turning, where it falls into this session. The planner counts one a session; another one is done
   * only with hand minutes that nothing else is counted on.
   */
  #turnWhenDue(lot: LotWork, formedAt: Date | null, turnedAt: Date | null): void {
    if (formedAt === null) return;
    const { dryAt: unmoldDueAt, shape } = lot;
    const due = nextTurning(
      { formedAt, turnedAt, unmoldDueAt, turnSeconds: shape.turnSeconds },
      this.#work.workshop,
    );
    if (due === null) return;
    const dueMs = due.getTime();
    const ms = turningMs(lot);
    if (Math.max(dueMs, this.#work.from.getTime()) + ms > this.#endMs) return;
    const isAnother = turnedAt !== null && turnedAt >= this.#work.session.startsAt;
    if (isAnother && ms > this.#spareMs) {
      this.#troubles.push({ kind: "turning-left-out", lotId: lot.lotId, dueAt: new Date(dueMs) });
      return;
    }
    if (isAnother) this.#spareMs -= ms;
    this.#turnings.push({ lot, dueMs });
    this.#turnings.sort((one, other) => one.dueMs - other.dueMs || one.lot.lotId - other.lot.lotId);
  }

  #turn(hand: number, atMs: number): boolean {
    const [turning] = this.#turnings;
    if (turning === undefined || turning.dueMs > atMs) return false;
    this.#turnings.shift();
    const { lot } = turning;
    const endMs = atMs + turningMs(lot);
    this.#do({ kind: "turn", lotId: lot.lotId, units: lot.units }, hand, atMs, endMs);
    this.#turned.set(lot.lotId, new Date(endMs));
    this.#turnWhenDue(lot, new Date(atMs), new Date(endMs));
    return true;
  }

  /** What cannot be turned any more before everybody leaves waits for the next session. */
  #leaveOutTurnings(atMs: number): void {
    const late = this.#turnings.filter(
      ({ lot, dueMs }) => dueMs <= atMs && atMs + turningMs(lot) > this.#endMs,
    );
    for (const { lot, dueMs } of late)
      this.#troubles.push({ kind: "turning-left-out", lotId: lot.lotId, dueAt: new Date(dueMs) });
    this.#leftOut += late.length;
    this.#turnings = this.#turnings.filter((turning) => !late.includes(turning));
  }

  // Trays.

  /** Unmolds the next lot, of some shapes only where they are given. */
  #unmold(hand: number, atMs: number, shapes?: ReadonlySet<number>): boolean {
    const pile = this.#toUnmold.find(({ lot }) => shapes?.has(lot.shape.shapeId) ?? true);
    if (pile === undefined) return false;
    const { lot } = pile;
    const inBetween = shapes === undefined && this.#way === "bowls-first";
    const units = inBetween ? this.#fitting(pile, lot.shape.unmoldSeconds, atMs) : pile.units;
    if (units === 0) return false;
    const endMs = this.#handle("unmold", pile, units, lot.shape.unmoldSeconds, hand, atMs);
    if (pile.units > 0) return true;
    this.#toUnmold.splice(this.#toUnmold.indexOf(pile), 1);
    if (lot.pack === this.#work.place) this.#toPack.push({ lot, units: lot.units, fromMs: endMs });
    return true;
  }

  /** Packs pieces that have rested, as many as there is time for before the next bowl. */
  #pack(hand: number, atMs: number): boolean {
    const pile = this.#toPack.find(({ fromMs }) => fromMs <= atMs);
    if (pile === undefined) return false;
    const units = this.#fitting(pile, pile.lot.shape.packSeconds, atMs);
    if (units === 0) return false;
    this.#handle("pack", pile, units, pile.lot.shape.packSeconds, hand, atMs);
    if (pile.units === 0) this.#toPack.splice(this.#toPack.indexOf(pile), 1);
    return true;
  }

  #fitting({ units }: Pile, secondsAPiece: number, atMs: number): number {
    const untilMs = Math.min(this.#nextBowlMs(), ...this.#cleanDowns.map(({ fromMs }) => fromMs));
    if (untilMs === Number.POSITIVE_INFINITY || untilMs <= atMs || secondsAPiece === 0) return units;
    return Math.min(units, Math.floor((untilMs - atMs) / (secondsAPiece * 1000)));
  }

  #handle(
    kind: "unmold" | "pack",
    pile: Pile,
    units: number,
    secondsAPiece: number,
    hand: number,
    atMs: number,
  ): number {
    // So that parts of a lot take as long together as the lot as a whole.
    const done = pile.lot.units - pile.units;
    const ms = handMs(done + units, secondsAPiece) - handMs(done, secondsAPiece);
    pile.units -= units;
    this.#do({ kind, lotId: pile.lot.lotId, units }, hand, atMs, atMs + ms);
    return atMs + ms;
  }

  // The account of the hands.

  #do(task: Task, hand: number, startMs: number, endMs: number): void {
    this.#write(task, hand, startMs, endMs);
    this.#hands[hand] = endMs;
  }

  #write(task: Task, hand: number, startMs: number, endMs: number): void {
    this.#entries.push({ ...task, startsAt: new Date(startMs), endsAt: new Date(endMs), hand });
  }

  #handMsLeft(): number {
    const { session, from } = this.#work;
    const lengthMs = this.#endMs - session.startsAt.getTime();
    return (session.handMinutes * MINUTE_MS * (this.#endMs - from.getTime())) / lengthMs;
  }

  /** What the planner counts for what is still to be done here: one turning of everything that stays in its mold. */
  #countedMs(): number {
    const bowls = this.#bowls.reduce(
      (sum, { weighMs, mixMs, pressMs, cleanMs }) => sum + weighMs + mixMs + pressMs + cleanMs,
      0,
    );
    const turnings = this.#inMold()
      .filter(({ turnedAt }) => turnedAt === null || turnedAt < this.#work.session.startsAt)
      .reduce((sum, lot) => sum + turningMs(lot), 0);
    const { lots, place } = this.#work;
    const trays = lots.reduce(
      (sum, { units, shape, unmold, pack }) =>
        sum +
        (unmold === place ? handMs(units, shape.unmoldSeconds) : 0) +
        (pack === place ? handMs(units, shape.packSeconds) : 0),
      0,
    );
    return bowls + turnings + trays;
  }
}

function turningMs({ units, shape }: LotWork): number {
  return handMs(units, shape.turnSeconds);
}

function mixTask({ runId, bowl }: Bowl, mixer: number, mixerFromMs: number, bowlMs: number): Task {
  return {
    kind: "mix",
    runId,
    bowl,
    mixer,
    mixerFrom: new Date(mixerFromMs),
    mixerUntil: new Date(mixerFromMs + bowlMs),
  };
}

function pressTask({ runId, bowl, pieces }: Bowl): Task {
  return { kind: "press", runId, bowl, pieces };
}

const MINUTE_MS = 60_000;

/** What whole milliseconds may add up to over a session. */
const ROUNDING_MS = 1_000;
