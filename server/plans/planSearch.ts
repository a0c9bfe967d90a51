import { randomUUID } from "node:crypto";
import type { Result } from "../basics/result.ts";
import type { HoldUps } from "../planning/questions/whatHoldsUp.ts";
import type { Proof } from "../proving/proof.ts";
import type { Question } from "./askQuestion.ts";
import { notAsked } from "./keptPlan.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";
import type { MadePlan } from "./proposePlan.ts";
import type { FoundPlan, SeededPlan } from "./searchSideBySide.ts";
import { isProvenBest, withBound } from "./withBound.ts";

/** The same question then gets the same search: planning again without a change is no lottery. */
const SEED = 1;

/** Plans that can still be accepted although better ones were found since: whoever looks at one may be slow. */
const MOST_REMEMBERED = 50;

/** What a search is at: looking for better plans, asking what holds the workshop up in the best, or done. */
type Phase = "searching" | "asking" | "over";

/** What became of a search. */
export type SearchEnd =
  /** Its plan, or the one that was accepted meanwhile, is kept there. */
  | { readonly kind: "kept"; readonly address: string }
  | { readonly kind: "failed"; readonly refusal: PlannerRefusal }
  /** It could not be written down. */
  | { readonly kind: "not-kept"; readonly cause: unknown }
  /** A newer question took its place, its question is out of date, or the server stops. */
  | { readonly kind: "given-up" };

/** A plan that was shown while the search went on. */
export interface ShownPlan extends SeededPlan {
  /** Counts from 1. */
  readonly number: number;
  /** Whether it turned up only while asking what holds the workshop up. */
  readonly whileAsking: boolean;
}

/** Where a plan was written down; without a number where an earlier sending of the same form had led elsewhere. */
export interface KeptAt {
  readonly address: string;
  readonly planId: number | null;
}

interface SearchParts {
  readonly planner: Planner;
  readonly question: Question;
  readonly askedAt: Date;
  readonly askedBy: string;
  /** Writes the plan down. */
  readonly keep: (made: MadePlan) => Promise<KeptAt>;
  /** Told where the proof of how good the plan is failed; the search goes on without it. */
  readonly proofFailed: (cause: unknown) => void;
}

/**
 * One search for the workshop's plan, in the memory of the server that was asked for it: it can be watched by several,
 * ended at any time, and one of its plans accepted while it runs. Nothing of it is written down before its end.
 */
export class PlanSearch {
  readonly id: string = randomUUID();
  readonly question: Question;
  readonly askedAt: Date;
  readonly askedBy: string;
  readonly seconds: number;
  readonly ended: Promise<SearchEnd>;
  readonly #parts: SearchParts;
  readonly #begun = performance.now();
  readonly #leave = new AbortController();
  readonly #watching = new Set<() => void>();
  #phase: Phase = "searching";
  #shown: ShownPlan[] = [];
  /** What no plan for the question can go below, whoever proved it. */
  #bound = 0;
  #proof: Proof | null = null;
  #firstCost: number | null = null;
  /** Why the search is left before its time: to keep the best plan, to accept one, or for nothing. */
  #wish: "keep" | "take" | "give-up" | null = null;
  /** Plans that were shown and are written down, under which number. */
  readonly #keptAs = new Map<ShownPlan["number"], number>();
  #taking: Promise<unknown> = Promise.resolve();
  #settle: (end: SearchEnd) => void = () => {};
  readonly #work: Promise<void>;

  constructor(parts: SearchParts) {
    this.#parts = parts;
    this.question = parts.question;
    this.askedAt = parts.askedAt;
    this.askedBy = parts.askedBy;
    this.seconds = parts.planner.searchSeconds;
    this.ended = new Promise((resolve) => {
      this.#settle = resolve;
    });
    this.#work = this.#run()
      .catch((cause: unknown) => this.#end({ kind: "not-kept", cause }))
      .then(() => this.#endProof());
  }

  get phase(): Phase {
    return this.#phase;
  }

  /** The best plan so far, with all that is proven about it; null in the first moments. */
  get best(): ShownPlan | null {
    const last = this.#shown.at(-1);
    return last === undefined ? null : this.#proven(last);
  }

  /** Lateness of the first plan; null before there is one. */
  get firstCost(): number | null {
    return this.#firstCost;
  }

  /** Share of the search's time that is over, 0 to 1. */
  get progress(): number {
    return this.#phase === "searching"
      ? Math.min(1, (performance.now() - this.#begun) / 1000 / this.seconds)
      : 1;
  }

  /** A plan that was shown; null where it was never or has been forgotten. */
  plan(number: number): ShownPlan | null {
    return this.#shown.find((shown) => shown.number === number) ?? null;
  }

  /** The number under which a plan that was shown is written down; null where it is not. */
  keptAs({ number }: ShownPlan): number | null {
    return this.#keptAs.get(number) ?? null;
  }

  /** Ends the search with the best plan it has; resolves when that is kept. */
  async endWithBest(): Promise<SearchEnd> {
    this.#leaveFor("keep");
    return await this.ended;
  }

  /** Ends the search for nothing. */
  async giveUp(): Promise<void> {
    this.#leaveFor("give-up");
    await this.#work;
  }

  /**
   * Ends the search because one of its plans is taken: `take` writes it down and follows it. Where that is refused, the
   * search was for a question of the past. Who takes twice does it one after the other.
   */
  async take<Refusal>(
    shown: ShownPlan,
    take: () => Promise<Result<KeptAt, Refusal>>,
  ): Promise<Result<KeptAt, Refusal>> {
    this.#leaveFor("take");
    const turn = this.#taking.then(async () => {
      await this.#work;
      const taken = await take();
      if (taken.ok) this.#remember(shown, taken.value);
      return taken;
    });
    this.#taking = turn.catch(() => {});
    const taken = await turn.finally(() => this.#end({ kind: "given-up" }));
    return taken;
  }

  /** Resolves when there is something new to see, or the signal says not to wait any longer. */
  async news(signal: AbortSignal): Promise<void> {
    if (signal.aborted || this.#phase === "over") return;
    await new Promise<void>((resolve) => {
      const wake = () => {
        this.#watching.delete(wake);
        signal.removeEventListener("abort", wake);
        resolve();
      };
      this.#watching.add(wake);
      signal.addEventListener("abort", wake, { once: true });
    });
  }

  /** Made of a plan that was shown, for keeping it before the search has come to its end. */
  unfinished(shown: ShownPlan): MadePlan {
    const { plan, seed, whileAsking } = this.#proven(shown);
    return { ...this.question, plan, seed, askedAt: this.askedAt, holdUps: notAsked(plan), whileAsking };
  }

  #leaveFor(wish: "keep" | "take" | "give-up"): void {
    if (this.#wish !== null || this.#phase === "over") return;
    this.#wish = wish;
    this.#leave.abort();
    void this.#endProof();
  }

  async #run(): Promise<void> {
    const { planner, question } = this.#parts;
    const found = await planner.search(question.planCase, {
      seed: SEED,
      signal: this.#leave.signal,
      onBetter: (better) => this.#show(better),
    });
    if (!found.ok) return await this.#endEarly(found.refusal);
    this.#showFound(found.value);
    this.#prove("after-search");
    const holdUps = await this.#askHoldUps(found.value);
    const { best } = this;
    if (holdUps === null || best === null) return await this.#endEarly({ kind: "planning-stopped" });
    await this.#keep({ ...this.unfinished(best), holdUps });
  }

  /** Null where the search was left meanwhile. A planner that fails at this leaves a plan that is good all the same. */
  async #askHoldUps(found: FoundPlan): Promise<HoldUps | null> {
    const { planner, question } = this.#parts;
    this.#phase = "asking";
    this.#wake();
    const asked = await planner.askHoldUps(question.planCase, found, { signal: this.#leave.signal });
    if (this.#wish !== null) return null;
    if (!asked.ok) return notAsked(found.plan);
    if (asked.value.plan.cost < found.plan.cost - 1e-6) {
      this.#show({ plan: asked.value.plan, seed: found.seed }, true);
    }
    return asked.value.holdUps;
  }

  async #endEarly(refusal: PlannerRefusal): Promise<void> {
    const { best } = this;
    if (this.#wish === "take") return;
    if (this.#wish === "keep" && best !== null) return await this.#keep(this.unfinished(best));
    this.#end(this.#wish === "give-up" ? { kind: "given-up" } : { kind: "failed", refusal });
  }

  async #keep(made: MadePlan): Promise<void> {
    const kept = await this.#parts.keep(made);
    if (this.best !== null) this.#remember(this.best, kept);
  }

  /** The end of the search may name a plan as good as the one shown last, with a bound that has grown since. */
  #showFound(found: FoundPlan): void {
    this.#raiseBound(found.plan.bound);
    const last = this.best;
    if (last !== null && last.seed === found.seed && Math.abs(last.plan.cost - found.plan.cost) < 1e-6) {
      if (last.plan.handMinutes - found.plan.handMinutes < 1e-6) return;
    }
    this.#show(found);
  }

  #show({ plan, seed }: SeededPlan, whileAsking = false): void {
    this.#firstCost ??= plan.cost;
    const number = (this.best?.number ?? 0) + 1;
    this.#shown = [...this.#shown, { number, plan, seed, whileAsking }].slice(-MOST_REMEMBERED);
    this.#raiseBound(plan.bound);
    this.#proof?.hear(plan.cost);
    this.#prove("beside-search");
    this.#wake();
  }

  /** Begins to prove how good the best plan is, where the planner has a core for that now and it is not known yet. */
  #prove(moment: Planner["proves"]): void {
    const { planner, question, proofFailed } = this.#parts;
    const { best } = this;
    if (moment !== planner.proves || this.#proof !== null || this.#wish !== null) return;
    if (best === null || isProvenBest(best.plan)) return;
    this.#proof = planner.prove(question.planCase, best.plan.cost, (bound) => this.#raiseBound(bound));
    void this.#proof.ended.then((end) => end.kind === "failed" && proofFailed(end.cause));
  }

  async #endProof(): Promise<void> {
    await this.#proof?.end();
  }

  /** Wakes nobody: bounds come in quick succession, and who watches looks every second anyway. */
  #raiseBound(bound: number): void {
    this.#bound = Math.max(this.#bound, bound);
  }

  #proven(shown: ShownPlan): ShownPlan {
    return { ...shown, plan: withBound(shown.plan, this.#bound) };
  }

  #remember({ number }: ShownPlan, { planId, address }: KeptAt): void {
    if (planId !== null) this.#keptAs.set(number, planId);
    this.#end({ kind: "kept", address });
  }

  /** The first end holds. */
  #end(end: SearchEnd): void {
    this.#phase = "over";
    this.#settle(end);
    this.#wake();
  }

  #wake(): void {
    for (const wake of [...this.#watching]) wake();
  }
}
