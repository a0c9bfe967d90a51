import type { PlanCase, Shape } from "../planning/case.ts";
import type { LotPieces } from "../planning/loads.ts";
import type { Supply } from "../planning/plan.ts";
import type { Horizon, Milestones } from "../planning/timing/horizon.ts";
import type { KeptPlan } from "./keptPlan.ts";

/** Pieces of one product from one run, or drying since before the plan: what is followed over the board. */
export interface Batch {
  /** Unique in the plan; also the name of its place on the page. */
  readonly anchor: string;
  readonly product: string;
  readonly blend: string;
  readonly shape: Shape;
  readonly units: number;
  /** Index of the run in the plan; null for what was drying already. */
  readonly run: number | null;
  /** Session it is formed in; null for what was drying already. */
  readonly session: number | null;
  /** Out of its mold before the plan began. */
  readonly outOfMold: boolean;
  /** Whether these pieces on the board are its own. */
  is(lot: LotPieces): boolean;
  isServedBy(supply: Supply): boolean;
  milestones(horizon: Horizon): Milestones;
  trays(planCase: PlanCase): number;
  /** Hand minutes of its run's bowls and clean-down, paid by the first batch of the run. */
  runMinutes(planCase: PlanCase): number;
}

/** What dries already first, then the runs by session, light before dark. */
export function batchesOf({ planCase, plan }: KeptPlan): readonly Batch[] {
  const shapeOf = (product: string) => productOf(planCase, product);
  const drying = planCase.drying.map((entry, index): Batch => {
    const { blend, shape } = shapeOf(entry.product);
    return {
      anchor: `drying-${index + 1}`,
      product: entry.product,
      blend,
      shape,
      units: entry.units,
      run: null,
      session: null,
      outOfMold: entry.unmoldAt === null,
      is: ({ origin }) => origin.from === "drying" && origin.drying === index,
      isServedBy: (supply) => supply.from === "drying" && supply.drying === index,
      milestones: (horizon) => horizon.ofDrying(entry),
      trays: () => entry.trays,
      runMinutes: () => 0,
    };
  });
  const runs = runsInOrder(planCase, plan.runs);
  const formed = runs.flatMap(({ run, index }) =>
    run.pieces.map(({ product, units }, place): Batch => {
      const { blend, shape } = shapeOf(product);
      return {
        anchor: `run-${index + 1}-${place + 1}`,
        product,
        blend,
        shape,
        units,
        run: index,
        session: run.session,
        outOfMold: false,
        is: (lot) => lot.origin.from === "run" && lot.origin.run === index && lot.product === product,
        isServedBy: (supply) =>
          supply.from === "run" && supply.session === run.session && supply.product === product,
        milestones: (horizon) => horizon.ofForming(shape, run.session),
        trays: () => Math.ceil(units / shape.unitsPerTray),
        runMinutes: ({ mixMinutes, cleanMinutes }) =>
          place === 0 ? run.bowls * mixMinutes + cleanMinutes : 0,
      };
    }),
  );
  return [...drying, ...formed];
}

/** The plan's runs with their index, by session and then light before dark. */
export function runsInOrder(planCase: PlanCase, runs: KeptPlan["plan"]["runs"]) {
  const shades = new Map(planCase.blends.map(({ id, shade }) => [id, shade]));
  const shade = (blend: string) => shades.get(blend) ?? 0;
  return runs
    .map((run, index) => ({ run, index }))
    .sort(
      (one, other) =>
        one.run.session - other.run.session ||
        shade(one.run.blend) - shade(other.run.blend) ||
        one.index - other.index,
    );
}

function productOf(planCase: PlanCase, code: string): { readonly blend: string; readonly shape: Shape } {
  const product = planCase.products.find(({ id }) => id === code);
  const shape = planCase.shapes.find(({ id }) => id === product?.shape);
  if (product === undefined || shape === undefined) throw new Error(`The case leaves out ${code}`);
  return { blend: product.blend, shape };
}
