import type { Result } from "../basics/result.ts";
import type { Decisions } from "../planning/plan.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";
import type { PromiseQuestion } from "./promiseQuestion.ts";
import type { PromiseAnswer } from "./promiseTask.ts";

/** The same question gives the same answer. */
const seed = 1;

/**
 * Where promises are asked for while somebody types. A form has one question at a time: a newer one ends the one
 * before. The plan that the accepted orders stand by is remembered for as long as nothing happens.
 */
export class PromiseDesk {
  readonly #planner: Planner;
  readonly #asking = new Map<string, AbortController>();
  #standing: { readonly stateKey: string; readonly decisions: Decisions } | null = null;

  constructor(planner: Planner) {
    this.#planner = planner;
  }

  /** @param form the form's own number, which tells one tab from another. */
  async ask(
    form: string,
    question: PromiseQuestion,
    signal: AbortSignal,
  ): Promise<Result<PromiseAnswer, PlannerRefusal>> {
    this.#asking.get(form)?.abort();
    const own = new AbortController();
    this.#asking.set(form, own);
    const { stateKey, ...asked } = question;
    const known = this.#standing?.stateKey === stateKey ? this.#standing.decisions : null;
    const standing = known === null ? {} : { decisions: known, isCurrent: true };
    try {
      const answer = await this.#planner.givePromise(
        { ...asked, ...standing, seed },
        { signal: AbortSignal.any([own.signal, signal]) },
      );
      if (answer.ok) this.#standing = { stateKey, decisions: answer.value.standing };
      return answer;
    } finally {
      if (this.#asking.get(form) === own) this.#asking.delete(form);
    }
  }
}
