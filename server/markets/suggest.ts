import { believe, demandOf, likeliestSteadiness, meanOf, plainMean, type Showing } from "./demand.ts";
import { criticalRatio, type Expectation, expectationOf, leastCovering } from "./newsvendor.ts";

/** Pieces of one product that a stall takes at most. */
export const MOST_TAKEN = 10_000;

/** A product as the suggestion needs it. */
export interface StallProduct {
  readonly productId: number;
  readonly shapeId: number;
  readonly blendId: number;
  /** What a piece earns when it is sold, and has lost when it comes home; in one unit, the second not negative. */
  readonly missed: number;
  readonly leftOver: number;
  /** What past markets of the kind showed of it, in any order. */
  readonly showings: readonly Showing[];
}

/** Whose past a number comes from: its own, that of its shape or blend, of everything on the stall, or nobody's. */
type Basis = "own" | "shape" | "blend" | "all" | "nothing";

/** What stands behind a number, for the one line that tells it. */
export interface Past {
  readonly markets: number;
  readonly leastSold: number;
  readonly mostSold: number;
  readonly soldOut: number;
}

export interface Suggestion {
  readonly productId: number;
  /** Null: there is nothing to go by. */
  readonly takeUnits: number | null;
  readonly basis: Basis;
  /** Its own past; null: it was never on the stall. */
  readonly own: Past | null;
  /** The past of those it was measured by as well; null where its own past is enough, or there is none. */
  readonly family: Past | null;
  /** 0 to 1: how often the number should be enough. */
  readonly ratio: number;
  readonly expected: Expectation | null;
}

/** From so many showings on a product speaks for itself, in words; in numbers its family fades step by step. */
const SPEAKS_FOR_ITSELF = 3;

/**
 * The ratio is kept below this: without a loss on what comes home, no number would ever be enough. Our judgement.
 */
const MOST_CERTAIN = 0.98;

/** How many to take of each product, in the order given. */
export function suggest(products: readonly StallProduct[]): readonly Suggestion[] {
  const steadiness = likeliestSteadiness(products.map(({ showings }) => showings));
  return products.map((product) => suggestOne(product, products, steadiness));
}

function suggestOne(
  product: StallProduct,
  products: readonly StallProduct[],
  steadiness: number,
): Suggestion {
  const { productId, showings } = product;
  const ratio = Math.min(criticalRatio(product.missed, product.leftOver), MOST_CERTAIN);
  const family = familyOf(product, products);
  const own = pastOf(showings);
  const known: Basis = showings.length > 0 ? "own" : (family?.basis ?? "nothing");
  const facts = {
    productId,
    ratio,
    own,
    basis: known,
    family: showings.length < SPEAKS_FOR_ITSELF ? pastOf(family?.showings ?? []) : null,
  };
  if (known === "nothing") return { ...facts, takeUnits: null, expected: null };
  const before = family ? meanOfFamily(family.showings, steadiness) : plainMean(showings);
  const demand = demandOf(believe(showings, before, steadiness), steadiness, MOST_TAKEN);
  const takeUnits = leastCovering(demand, ratio);
  return { ...facts, takeUnits, expected: expectationOf(demand, takeUnits) };
}

interface Family {
  readonly basis: "shape" | "blend" | "all";
  readonly showings: readonly Showing[];
}

/** The nearest others that were ever on the stall: of the same shape, else of the same blend, else all. */
function familyOf(product: StallProduct, products: readonly StallProduct[]): Family | null {
  const others = products.filter((other) => other.productId !== product.productId);
  const circles = [
    { basis: "shape", in: (other: StallProduct) => other.shapeId === product.shapeId },
    { basis: "blend", in: (other: StallProduct) => other.blendId === product.blendId },
    { basis: "all", in: () => true },
  ] as const;
  for (const circle of circles) {
    const showings = others.filter(circle.in).flatMap((other) => other.showings);
    if (showings.length > 0) return { basis: circle.basis, showings };
  }
  return null;
}

/** What a family is believed to sell a market and product: its sell-outs count as at least so many, too. */
function meanOfFamily(showings: readonly Showing[], steadiness: number): number {
  return meanOf(believe(showings, plainMean(showings), steadiness));
}

function pastOf(showings: readonly Showing[]): Past | null {
  if (showings.length === 0) return null;
  const sold = showings.map(({ soldUnits }) => soldUnits);
  return {
    markets: showings.length,
    leastSold: Math.min(...sold),
    mostSold: Math.max(...sold),
    soldOut: showings.filter(({ soldOut }) => soldOut !== null).length,
  };
}
