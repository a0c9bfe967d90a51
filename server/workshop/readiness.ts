/** What the workshop has, as far as planning needs it. Retired things do not count. */
export interface SetupFacts {
  readonly shapes: number;
  readonly moldSets: number;
  readonly blends: number;
  readonly products: number;
  /** Products whose shape has a mold set, or needs none. */
  readonly pressableProducts: number;
  readonly shops: number;
  readonly markets: number;
  readonly weekSessions: number;
  readonly weekHandMinutes: number;
  /** Sessions of the week in which at least one bowl can be mixed from start to end. */
  readonly mixingSessions: number;
  readonly comingExceptions: number;
  readonly trays: number;
  readonly mixers: number;
  readonly bowlMilligrams: number;
  readonly timeZone: string;
  readonly currency: string;
  readonly ingredients: number;
  readonly packaging: number;
  readonly suppliers: number;
  readonly carriers: number;
  readonly boxSizes: number;
  /** Blends in use that have a recipe. */
  readonly recipes: number;
  readonly priceLists: number;
  readonly taxGroups: number;
  readonly people: number;
}

/** A thing without which no plan can make a single piece, in the order in which one would see to it. */
type Missing =
  | "trays"
  | "mixers"
  | "shapes"
  | "sessions"
  | "mixing sessions"
  | "blends"
  | "products"
  | "mold sets"
  | "customers";

/** What is missing before the workshop can plan; empty when nothing is. */
export function whatIsMissing(facts: SetupFacts): readonly Missing[] {
  const checks: readonly (readonly [Missing, boolean])[] = [
    ["trays", facts.trays === 0],
    ["mixers", facts.mixers === 0],
    ["shapes", facts.shapes === 0],
    ["sessions", facts.weekSessions === 0],
    ["mixing sessions", facts.weekSessions > 0 && facts.mixingSessions === 0],
    ["blends", facts.blends === 0],
    ["products", facts.products === 0],
    ["mold sets", facts.products > 0 && facts.pressableProducts === 0],
    ["customers", facts.shops + facts.markets === 0],
  ];
  return checks.filter(([, missing]) => missing).map(([what]) => what);
}
