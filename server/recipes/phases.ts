/** The steps of mixing in their order: what is stirred in when. The acid comes last and slowly. */
export const phases = ["dry", "colour", "liquid", "acid"] as const;

export type Phase = (typeof phases)[number];

/** Parts in mixing order; within a step as the recipe has them. */
export function inMixingOrder<Part extends { readonly phase: Phase }>(
  parts: readonly Part[],
): readonly Part[] {
  return phases.flatMap((phase) => parts.filter((part) => part.phase === phase));
}
