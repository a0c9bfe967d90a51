/** The question the planner answers: one workshop, its sessions, and the orders it has taken. */

/** How a shape dries: one half stays with each piece, the closed set stays with it, or no mold is held at all. */
export type DriesIn = "half" | "whole" | "none";

/** What counts as late: all of the order, each piece by itself, or everything not there on the day. */
export type Terms = "complete" | "as-ready" | "market";

/** One stretch of working time on one day. */
export interface Session {
  /** Calendar date, `YYYY-MM-DD`. */
  readonly date: string;
  /** Local clock time, `HH:MM`. */
  readonly start: string;
  readonly end: string;
  /** People times minutes available for mixing, pressing, turning, unmolding and packing. */
  readonly handMinutes: number;
  /** False where nothing may be mixed or pressed. */
  readonly mixing: boolean;
  /** Multiplies the drying and rest hours of whatever is formed in this session; above 1 on damp days. */
  readonly dryingFactor: number;
}

/** A form the mix is pressed into. Minutes are hand minutes per piece. */
export interface Shape {
  readonly id: string;
  readonly moldSets: number;
  readonly driesIn: DriesIn;
  /** Hours from forming to unmolding; with `none`, until firm enough to lift off. */
  readonly moldHours: number;
  /** Hours on the tray from unmolding to packing. */
  readonly restHours: number;
  readonly unitsPerTray: number;
  /** Mix used per piece, handling loss included. */
  readonly grams: number;
  readonly formMinutes: number;
  readonly turnMinutes: number;
  readonly unmoldMinutes: number;
  readonly packMinutes: number;
}

/** One scent in one colour: what goes into one bowl. */
export interface Blend {
  readonly id: string;
  /** 0 lightest to 1 darkest. */
  readonly shade: number;
}

/** A blend in a shape: what a customer orders. */
export interface Product {
  readonly id: string;
  readonly blend: string;
  readonly shape: string;
  /**
   * What share of the pressed pieces is lost, from 0 to below 1; for whoever makes and reads the case. The planner plans what the order
   * lines ask for: pieces for expected losses stand there already, as `spare`.
   */
  readonly lossShare?: number;
}

export interface Stock {
  readonly product: string;
  readonly units: number;
}

/** Pieces formed before the first session. */
export interface Drying {
  readonly product: string;
  readonly units: number;
  readonly trays: number;
  /** `YYYY-MM-DDTHH:MM`; null when already out of the mold. */
  readonly unmoldAt: string | null;
  readonly packAt: string;
  /** How many of the units are expected to be lost on the way; the planner counts on all. */
  readonly expectedLosses?: number;
}

export interface OrderLine {
  readonly product: string;
  readonly units: number;
  /** How many of the units nobody ordered: they make up for expected losses. The planner treats all alike. */
  readonly spare?: number;
}

export interface Order {
  readonly id: string;
  readonly terms: Terms;
  /** The last date on which the order may be packed and still be on time, `YYYY-MM-DD`. */
  readonly shipBy: string;
  readonly weight: number;
  readonly lines: readonly OrderLine[];
}

/** A case as the planner works on it: parsed, complete, free of mistakes. */
export interface PlanCase {
  readonly name: string;
  /** In time order, never overlapping, at least one. */
  readonly sessions: readonly Session[];
  /** Bowls that can be in use side by side. */
  readonly mixers: number;
  readonly bowlGrams: number;
  readonly minBowlGrams: number;
  /** Clock minutes one bowl ties up one mixer. */
  readonly bowlMinutes: number;
  /** Hand minutes per bowl. */
  readonly mixMinutes: number;
  /** Hand minutes per run. */
  readonly cleanMinutes: number;
  readonly trays: number;
  readonly shapes: readonly Shape[];
  readonly blends: readonly Blend[];
  readonly products: readonly Product[];
  readonly stock: readonly Stock[];
  readonly drying: readonly Drying[];
  readonly orders: readonly Order[];
}

/** One thing wrong with a case file, and where: `$.orders[3].lines[0].product`. */
export interface CaseMistake {
  readonly path: string;
  readonly problem: string;
}

/** Sizes beyond which a case is refused instead of answered slowly. */
export const caseLimits = {
  sessions: 2_500,
  orders: 10_000,
  orderLines: 20_000,
  products: 5_000,
  dryingEntries: 5_000,
  /** Pieces on order in the whole case. */
  pieces: 100_000,
  /** Order lines times sessions: the search keeps a number for each pair. */
  lineSessions: 2_000_000,
  /** Largest single number anywhere: keeps every sum an exact integer inside. */
  amount: 1_000_000,
  /** Characters of an id or a name. */
  idLength: 200,
  /** Size of a case file in bytes. */
  fileBytes: 5_000_000,
} as const;
