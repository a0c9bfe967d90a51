import type { BlendLook } from "../../views/components/Swatch.tsx";

/*
 * What the week's news are made from. Dates are the workshop's own calendar dates in ISO 8601, which sort as text.
 */

/** An order that is confirmed and has not left whole. */
export interface OpenOrder {
  readonly id: number;
  readonly reference: string;
  readonly customer: string;
  readonly shipBy: string;
  /** Null once its box is closed: it then only has to leave. */
  readonly packing: PackingState | null;
}

/** How far an order is whose box is not closed. */
export interface PackingState {
  readonly terms: "complete" | "as-ready" | "market";
  /** Pieces still to be packed. */
  readonly left: number;
  /** Of these on the shelf now, once every earlier promise has its part. */
  readonly free: number;
}

/** Whether all that is still to be packed stands ready, or nothing is left to pack. */
export function canBeFilled({ packing }: OpenOrder): boolean {
  return packing === null || packing.free === packing.left;
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
  /** By ship-by date, then reference. */
  readonly orders: readonly OpenOrder[];
  /** By start. */
  readonly runs: readonly OpenRun[];
  /** By due time. */
  readonly lots: readonly DryingLot[];
}
