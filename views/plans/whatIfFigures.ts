import type { OrderFigures } from "./planFigures.ts";

/** The same question with other numbers, beside today's. What is null is as today. */
export interface WhatIfFigures {
  readonly molds: { readonly shape: string; readonly sets: number } | null;
  readonly trays: number | null;
  readonly mixers: number | null;
  readonly handMinutes: number | null;
  readonly damp: { readonly date: string; readonly factor: number } | null;
  readonly without: string | null;
  readonly added: { readonly product: string; readonly units: number; readonly shipBy: string } | null;
  readonly today: Totals;
  readonly changed: Totals;
  /** Those that fare differently first. */
  readonly orders: readonly ComparedOrder[];
}

interface Totals {
  /** Lateness in piece-days, and what no plan can go below. */
  readonly cost: number;
  readonly bound: number;
  readonly handMinutes: number;
}

export interface ComparedOrder {
  /** Null for what is added. */
  readonly today: OrderFigures | null;
  /** Null for what is left out. */
  readonly changed: OrderFigures | null;
}

/** What the form offers, with what is so today. */
export interface WhatIfChoices {
  readonly shapes: readonly { readonly code: string; readonly name: string; readonly sets: number }[];
  readonly trays: number;
  readonly mixers: number;
  /** Dates on which something can be mixed. */
  readonly dates: readonly string[];
  readonly orders: readonly { readonly reference: string; readonly customer: string }[];
  readonly products: readonly { readonly code: string; readonly name: string }[];
}
