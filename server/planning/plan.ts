/** The answer: what to run when, and which supply serves which order. */

/** Pieces of one product pressed from a run. */
export interface RunPieces {
  readonly product: string;
  readonly units: number;
}

/** All bowls of one blend mixed back to back in one session. */
export interface Run {
  /** Index into the case's sessions. */
  readonly session: number;
  readonly blend: string;
  readonly bowls: number;
  readonly pieces: readonly RunPieces[];
}

interface SupplyBase {
  readonly order: string;
  readonly product: string;
  readonly units: number;
}

/** Units that serve an order, and where they come from. */
export type Supply = SupplyBase &
  (
    | { readonly from: "stock" }
    | { readonly from: "run" /** Index into the case's sessions. */; readonly session: number }
    | { readonly from: "drying" /** Index into the case's drying list. */; readonly drying: number }
  );

/** What becomes of one order. */
export interface OrderOutcome {
  readonly id: string;
  /** Date of the last unit; null when some unit is never served. */
  readonly readyOn: string | null;
  readonly daysLate: number;
  /** Units never served; for a market order, units not served by ship-by. */
  readonly unitsShort: number;
}

export interface Plan {
  /** Lateness cost in unit-days. */
  readonly cost: number;
  /** Hand minutes spent on what the plan itself forms. */
  readonly handMinutes: number;
  /** No plan for this case has a lateness cost below this. */
  readonly bound: number;
  readonly runs: readonly Run[];
  readonly supplies: readonly Supply[];
  readonly orders: readonly OrderOutcome[];
}

/** The decisions of a plan, without the figures that follow from them. */
export type Decisions = Pick<Plan, "runs" | "supplies">;
