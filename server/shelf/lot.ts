/*
 * What is true of every lot. Its life: planned, mixing, drying, resting, ready; withdrawn when nothing of it was ever
 * pressed. From drying on it has pieces: as many as the moves of its ledger add up to.
 */

/** Most pieces one lot may have; also the most that are taken in one entry. */
export const mostUnitsOfLot = 100_000;

/** Why pieces are lost: broken, torn by the mold, swollen by damp, or kept back as a sample. */
export const lossCauses = ["cracked", "stuck", "swollen", "sample"] as const;
export type LossCause = (typeof lossCauses)[number];

/** Pieces lost in one step of the work, by cause. */
export type Losses = Readonly<Record<LossCause, number>>;

export function lostUnits(losses: Losses): number {
  return lossCauses.reduce((sum, cause) => sum + losses[cause], 0);
}

/** A tray carries pieces of one lot only, so the last one may be part empty. */
export function traysFor(units: number, unitsPerTray: number): number {
  return Math.ceil(units / unitsPerTray);
}

/** States in which a lot has pieces that can break, be counted, or be looked for. */
export type FormedState = "drying" | "resting" | "ready";

export function isFormed(state: string): state is FormedState {
  return state === "drying" || state === "resting" || state === "ready";
}
