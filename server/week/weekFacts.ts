import type { BlendLook } from "../../views/components/Swatch.tsx";

/*
 * What the week's news are made from. Dates are the workshop's own calendar dates in ISO 8601, which sort as text.
 */

/** An order that is confirmed and has not left whole. */
export interface OpenOrder {
  readonly id: number;
  readonly reference: string;
  readonly customer: string;
  readonly terms: "complete" | "as-ready" | "market";
  readonly shipBy: string;
  readonly state: "confirmed" | "packing" | "packed";
  /** What is still to be packed, one entry a product. */
  readonly toPack: readonly { readonly productId: number; readonly units: number }[];
}

/** What the accepted plan says of one order. */
export interface PlannedOutcome {
  readonly reference: string;
  /** Date of its last piece; null when some piece is never made. */
  readonly readyOn: string | null;
  readonly daysLate: number;
  readonly unitsShort: number;
}

/** A run of the accepted plan that is not pressed yet. */
export interface OpenRun {
  readonly id: number;
  readonly blend: BlendLook;
  readonly sessionDate: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly bowls: number;
  readonly units: number;
  readonly state: "planned" | "mixing";
}

/** Pieces in their molds or resting on trays. */
export interface DryingLot {
  readonly id: number;
  readonly code: string;
  readonly product: string;
  readonly blend: BlendLook;
  readonly units: number;
  readonly state: "drying" | "resting";
  /** The earliest time of its next step: out of the mold when drying, ready to pack when resting. */
  readonly dueAt: Date;
  readonly dueOn: string;
}

export interface WeekFacts {
  readonly now: Date;
  readonly today: string;
  readonly tomorrow: string;
  readonly hasProducts: boolean;
  readonly hasSessions: boolean;
  /** Null while no plan is accepted. */
  readonly outcomes: readonly PlannedOutcome[] | null;
  /** By ship-by date, then id. */
  readonly orders: readonly OpenOrder[];
  /** By start. */
  readonly runs: readonly OpenRun[];
  /** By due time. */
  readonly lots: readonly DryingLot[];
  /** Ready pieces that nobody has packed, by product. */
  readonly free: ReadonlyMap<number, number>;
}
