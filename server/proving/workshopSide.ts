import { mostFormed } from "../planning/bounds/mostFormed.ts";
import { type Instance, ticksPerMinute } from "../planning/search/instance.ts";
import { endless, type LinearModel, type Term } from "./linearModel.ts";

/** Pieces of one product formed in one session. */
interface Forming {
  readonly product: number;
  readonly shape: number;
  readonly session: number;
  /** Most that an otherwise empty workshop can form. */
  readonly most: number;
  /** Columns: how many pieces, on how many trays. */
  readonly pieces: number;
  readonly trays: number;
}

/** One blend in one session. */
export interface RunColumns {
  readonly blend: number;
  readonly session: number;
  /** Columns: whether there is a run, and its bowls. */
  readonly isRun: number;
  readonly bowls: number;
  readonly mostBowls: number;
  /** Least hand minutes of a bowl: mixing, and pressing its least weight in the quickest shape. */
  readonly bowlMinutes: number;
  readonly formings: readonly Forming[];
}

/** What a workshop can do: which runs, of how many bowls and pieces, within all limits of every session. */
export class WorkshopSide {
  readonly #instance: Instance;
  readonly #model: LinearModel;
  readonly #runs: readonly RunColumns[];
  /** By blend and session, and by product and session. */
  readonly #runOf = new Map<number, RunColumns>();
  readonly #formingOf = new Map<number, Forming>();

  constructor(instance: Instance, model: LinearModel) {
    this.#instance = instance;
    this.#model = model;
    this.#runs = this.#addRuns();
    for (let session = 0; session < instance.sessions; session++) this.#addLimits(session);
    for (let blend = 0; blend < instance.blends; blend++) {
      this.#addSums(this.#runs.filter((run) => run.blend === blend));
    }
  }

  /** Pieces of a product and its run in a session; null where there can be none. */
  source(product: number, session: number): { readonly pieces: number; readonly isRun: number } | null {
    const { sessions, blendOf } = this.#instance;
    const forming = this.#formingOf.get(product * sessions + session);
    const run = this.#runOf.get(blendOf[product]! * sessions + session);
    return forming === undefined || run === undefined ? null : { pieces: forming.pieces, isRun: run.isRun };
  }

  /** The run of a blend in a session in which there is a source of it. */
  run(blend: number, session: number): RunColumns {
    return this.#runOf.get(blend * this.#instance.sessions + session)!;
  }

  #addRuns(): readonly RunColumns[] {
    const { blends, sessions } = this.#instance;
    const formed = mostFormed(this.#instance);
    const ordered = new Set(this.#instance.lineProduct);
    const runs: RunColumns[] = [];
    for (let blend = 0; blend < blends; blend++) {
      const products = this.#productsOf(blend);
      // What nobody ordered is made to fill a least bowl up, never for its own sake.
      if (!products.some((product) => ordered.has(product))) continue;
      for (let session = 0; session < sessions; session++) {
        const here = products.filter((product) => formed[product * sessions + session]! > 0);
        const run = here.length === 0 ? null : this.#addRun(blend, session, here, formed);
        if (run === null) continue;
        runs.push(run);
        this.#runOf.set(blend * sessions + session, run);
        for (const forming of run.formings)
          this.#formingOf.set(forming.product * sessions + session, forming);
      }
    }
    return runs;
  }

  #productsOf(blend: number): readonly number[] {
    const { firstProduct, productsOfBlend } = this.#instance;
    return [...productsOfBlend.subarray(firstProduct[blend], firstProduct[blend + 1])];
  }

  #addRun(
    blend: number,
    session: number,
    products: readonly number[],
    formed: Int32Array,
  ): RunColumns | null {
    const { bowlGrams, minBowlGrams, weightOf, shapeOf, sessions, mixTicks } = this.#instance;
    const most = (product: number) => formed[product * sessions + session]!;
    const grams = products.reduce((sum, product) => sum + most(product) * weightOf[product]!, 0);
    const perGram = Math.min(
      ...products.map((product) => this.#formingTicks(product) / Math.max(1, weightOf[product]!)),
    );
    const bowlMinutes = (mixTicks + perGram * minBowlGrams) / ticksPerMinute;
    const mostBowls = this.#mostBowls(session, bowlMinutes, grams);
    if (mostBowls < 1) return null;
    const model = this.#model;
    const isRun = model.whole(1);
    const bowls = model.whole(mostBowls);
    model.row(
      0,
      [
        [1, bowls],
        [-1, isRun],
      ],
      endless,
    );
    model.row(
      -endless,
      [
        [1, bowls],
        [-mostBowls, isRun],
      ],
      0,
    );
    const formings = products.map((product) => {
      const perTray = this.#instance.unitsPerTray[shapeOf[product]!]!;
      const pieces = model.amount(most(product));
      const trays = model.amount(Math.ceil(most(product) / perTray));
      model.row(
        0,
        [
          [1, trays],
          [-1 / perTray, pieces],
        ],
        endless,
      );
      model.row(
        -endless,
        [
          [1, pieces],
          [-most(product), isRun],
        ],
        0,
      );
      return { product, shape: shapeOf[product]!, session, most: most(product), pieces, trays };
    });
    const mix = formings.map(({ product, pieces }): Term => [weightOf[product]! / bowlGrams, pieces]);
    model.row(-endless, [...mix, [-1, bowls]], 0);
    model.row(0, [...mix, [-minBowlGrams / bowlGrams, bowls]], endless);
    return { blend, session, isRun, bowls, mostBowls, bowlMinutes, formings };
  }

  #formingTicks(product: number): number {
    const { formTicks, turnTicks, shapeOf } = this.#instance;
    return formTicks[shapeOf[product]!]! + turnTicks[shapeOf[product]!]!;
  }

  /** Bowls that fit by hands, mixers and the least weight. More than the mix needs never help, and are not counted. */
  #mostBowls(session: number, bowlMinutes: number, grams: number): number {
    const { bowlRoom, handRoom, cleanTicks, bowlGrams, minBowlGrams } = this.#instance;
    const hands = (handRoom[session]! - cleanTicks) / ticksPerMinute;
    if (hands < 0) return 0;
    return Math.min(
      bowlRoom[session]!,
      Math.max(1, Math.ceil(grams / bowlGrams)),
      bowlMinutes > 0 ? Math.floor(hands / bowlMinutes + 1e-9) : endless,
      minBowlGrams > 0 ? Math.floor(grams / minBowlGrams + 1e-9) : endless,
    );
  }

  /** Hands, bowls, trays and molds of one session. */
  #addLimits(session: number): void {
    const { handRoom, bowlRoom, trayRoom, moldRoom, shapes, sessions, cleanTicks, mixTicks } = this.#instance;
    const model = this.#model;
    const here = this.#runs.filter((run) => run.session === session);
    const hands = here.flatMap(({ isRun, bowls }): Term[] => [
      [cleanTicks / ticksPerMinute, isRun],
      [mixTicks / ticksPerMinute, bowls],
    ]);
    const trays: Term[] = [];
    const molds: Term[][] = Array.from({ length: shapes }, () => []);
    for (const run of this.#runs) {
      if (run.session > session) continue;
      for (const forming of run.formings) {
        const { shape, pieces } = forming;
        const minutes = this.#minutesIn(session, forming);
        if (minutes > 0) hands.push([minutes, pieces]);
        const cell = shape * sessions + run.session;
        if (session < this.#instance.pack[cell]!) trays.push([1, forming.trays]);
        if (session < this.#instance.unmold[cell]! && this.#instance.holdsMold[shape] === 1) {
          molds[shape]!.push([1, pieces]);
        }
      }
    }
    model.row(-endless, hands, handRoom[session]! / ticksPerMinute);
    model.row(
      -endless,
      here.map(({ bowls }): Term => [1, bowls]),
      bowlRoom[session]!,
    );
    model.row(-endless, trays, trayRoom[session]!);
    molds.forEach((terms, shape) => {
      model.row(-endless, terms, moldRoom[shape * sessions + session]!);
    });
    this.#addMostRuns(session, here);
    this.#addSums(here);
  }

  /** Hand minutes that one piece of a forming takes in a session from its own on. */
  #minutesIn(session: number, forming: Forming): number {
    const { sessions, unmold, pack, formTicks, turnTicks, unmoldTicks, packTicks } = this.#instance;
    const { shape } = forming;
    const cell = shape * sessions + forming.session;
    const ticks =
      (session === forming.session ? formTicks[shape]! : 0) +
      (session < unmold[cell]! ? turnTicks[shape]! : 0) +
      (session === unmold[cell] ? unmoldTicks[shape]! : 0) +
      (session === pack[cell] ? packTicks[shape]! : 0);
    return ticks / ticksPerMinute;
  }

  /**
   * A run takes a clean-down and at least one least bowl, so a session's hands hold only so many. Follows from the other
   * rows for whole runs; for parts of runs, with which the solver begins, it says much more.
   */
  #addMostRuns(session: number, here: readonly RunColumns[]): void {
    const clean = this.#instance.cleanTicks / ticksPerMinute;
    const hands = this.#instance.handRoom[session]! / ticksPerMinute;
    const terms = here.flatMap(({ isRun, bowls, bowlMinutes }): Term[] => [
      [clean, isRun],
      [bowlMinutes, bowls],
    ]);
    this.#model.row(-endless, terms, hands);
    let most = 0;
    let used = 0;
    for (const { bowlMinutes } of [...here].sort((one, other) => one.bowlMinutes - other.bowlMinutes)) {
      used += clean + bowlMinutes;
      if (used > hands + 1e-6) break;
      most += 1;
    }
    if (most < here.length)
      this.#model.row(
        -endless,
        here.map(({ isRun }): Term => [1, isRun]),
        most,
      );
  }

  /** How many runs and bowls in all: whole numbers, which divide the plans there are in fewer and better parts. */
  #addSums(runs: readonly RunColumns[]): void {
    this.#model.sum(
      runs.map(({ isRun }) => isRun),
      runs.length,
    );
    this.#model.sum(
      runs.map(({ bowls }) => bowls),
      runs.reduce((sum, { mostBowls }) => sum + mostBowls, 0),
    );
  }
}
