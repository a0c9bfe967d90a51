import { ok, type Result, refuse } from "../basics/result.ts";
import type { Order, PlanCase } from "../planning/case.ts";
import { parseCase } from "../planning/parseCase.ts";
import { withSpares } from "./spares.ts";

/** What is taken to be different; null where it is as today. */
export interface WhatIf {
  readonly molds: { readonly shape: string; readonly sets: number } | null;
  readonly trays: number | null;
  readonly mixers: number | null;
  /** Hand minutes more in every session; below zero fewer. */
  readonly handMinutes: number | null;
  readonly damp: { readonly date: string; readonly factor: number } | null;
  /** Reference of an order that is left out. */
  readonly without: string | null;
  readonly added: { readonly product: string; readonly units: number; readonly shipBy: string } | null;
}

/** A part of the question that does not fit the workshop; the field of the form it stands in. */
export interface Misfit {
  readonly field: "shape" | "damp" | "without" | "product" | "";
  readonly problem: "unknown" | "no-session" | "no-order-left" | { readonly tooLarge: string };
}

/** What the order of added pieces is called in a plan. */
export const ADDED = "added pieces";

/** The same question with other numbers. */
export function changedCase(planCase: PlanCase, whatIf: WhatIf): Result<PlanCase, Misfit> {
  const misfit = misfitOf(planCase, whatIf);
  if (misfit !== null) return refuse(misfit);
  const { molds, trays, mixers, damp, without, added, handMinutes } = whatIf;
  const changed: PlanCase = {
    ...planCase,
    trays: trays ?? planCase.trays,
    mixers: mixers ?? planCase.mixers,
    shapes: planCase.shapes.map((shape) =>
      shape.id === molds?.shape ? { ...shape, moldSets: molds.sets } : shape,
    ),
    sessions: planCase.sessions.map((session) => ({
      ...session,
      handMinutes: Math.max(0, session.handMinutes + (handMinutes ?? 0)),
      dryingFactor: session.date === damp?.date ? damp.factor : session.dryingFactor,
    })),
    orders: [
      ...planCase.orders.filter(({ id }) => id !== without),
      ...(added === null ? [] : [orderOfAdded(added)]),
    ],
  };
  if (changed.orders.length === 0) return refuse({ field: "without", problem: "no-order-left" });
  const parsed = parseCase(withSpares(changed));
  if (parsed.ok) return ok(parsed.value);
  const problems = parsed.refusal.map(({ path, problem }) => `${path.replace(/^\$\./, "")} ${problem}`);
  return refuse({ field: "", problem: { tooLarge: problems.slice(0, 3).join("; ") } });
}

function misfitOf(planCase: PlanCase, { molds, damp, without, added }: WhatIf): Misfit | null {
  if (molds !== null && !planCase.shapes.some(({ id }) => id === molds.shape))
    return { field: "shape", problem: "unknown" };
  if (damp !== null && !planCase.sessions.some(({ date }) => date === damp.date))
    return { field: "damp", problem: "no-session" };
  if (without !== null && !planCase.orders.some(({ id }) => id === without))
    return { field: "without", problem: "unknown" };
  if (added !== null && !planCase.products.some(({ id }) => id === added.product))
    return { field: "product", problem: "unknown" };
  return null;
}

function orderOfAdded({ product, units, shipBy }: NonNullable<WhatIf["added"]>): Order {
  return { id: ADDED, terms: "complete", shipBy, weight: 1, lines: [{ product, units }] };
}
