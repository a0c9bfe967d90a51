import { apportion, BASIS_POINTS, MILLION, roundHalfUp } from "../money/exactShares.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";
import { type Fraction, fraction, NOTHING, plus, times } from "./fractions.ts";

/** So much of a supply for one piece, and what a milligram or piece of it costs; null: nobody knows. */
export interface CostedPart {
  readonly name: string;
  readonly amount: Fraction;
  readonly unitMinor: Fraction | null;
}

/** Hands that one piece takes, and what of the run's hands falls to it. All in hundredths, as they are kept. */
export interface PieceHands {
  /** Forming, one turning, unmolding and packing of one piece, in hundredths of a second. */
  readonly pieceHundredthSeconds: number;
  /** Mixing a bowl and cleaning up after it, in hundredths of a minute. */
  readonly bowlHundredthMinutes: number;
  /** The piece's share of a full bowl. */
  readonly pieceMilligrams: number;
  readonly bowlMilligrams: number;
}

export interface PieceCost {
  readonly ingredientsMinor: MinorUnits;
  readonly packagingMinor: MinorUnits;
  /** Null: nobody said what an hour costs, and hands are not counted. */
  readonly handsMinor: MinorUnits | null;
  readonly totalMinor: MinorUnits;
  /** What has no price yet, so that the piece costs more than the total says. */
  readonly unpriced: readonly string[];
}

/**
 * What one piece costs: ingredients as its recipe says, packaging as its packing list says, and hands, a full bowl at a
 * time. Nothing is rounded before all is added up: the total is rounded once, to the nearest minor unit, a half upwards,
 * and what is shown of it is shared out so that it adds up to it.
 */
export function pieceCost(
  ingredients: readonly CostedPart[],
  packaging: readonly CostedPart[],
  hands: PieceHands,
  hourMinor: number | null,
): PieceCost {
  const exact = [
    sumOf(ingredients),
    sumOf(packaging),
    hourMinor === null ? NOTHING : times(hoursOf(hands), fraction(hourMinor, 1)),
  ];
  const total = exact.reduce(plus, NOTHING);
  const totalMinor = roundHalfUp(total.over, total.under);
  const common = exact.reduce((under, part) => under * part.under, 1n);
  const [forIngredients = 0n, forPackaging = 0n, forHands = 0n] = apportion(
    totalMinor,
    total.over === 0n ? exact.map(() => 0n) : exact.map(({ over, under }) => (over * common) / under),
  );
  return {
    ingredientsMinor: minorUnits(forIngredients),
    packagingMinor: minorUnits(forPackaging),
    handsMinor: hourMinor === null ? null : minorUnits(forHands),
    totalMinor: minorUnits(totalMinor),
    unpriced: [...ingredients, ...packaging].flatMap(({ name, unitMinor }) =>
      unitMinor === null ? [name] : [],
    ),
  };
}

/** Hours of hands for one piece. */
function hoursOf(hands: PieceHands): Fraction {
  const byItself = fraction(hands.pieceHundredthSeconds, 100 * 3600);
  const ofTheBowl = times(
    fraction(hands.bowlHundredthMinutes, 100 * 60),
    fraction(hands.pieceMilligrams, hands.bowlMilligrams),
  );
  return plus(byItself, ofTheBowl);
}

/** Minutes of hands for one piece, for showing. */
export function handMinutesOf(hands: PieceHands): number {
  const { over, under } = hoursOf(hands);
  return Number((over * 60n * 100n) / under) / 100;
}

function sumOf(parts: readonly CostedPart[]): Fraction {
  return parts.reduce(
    (sum, { amount, unitMinor }) => (unitMinor === null ? sum : plus(sum, times(amount, unitMinor))),
    NOTHING,
  );
}

export interface Margin {
  /** What the price is without tax. */
  readonly netMinor: MinorUnits;
  /** Net less cost; negative: every piece loses money. */
  readonly marginMinor: number;
  /** Of the net price, in basis points, a half away from zero; null: the price is nothing. */
  readonly shareBasisPoints: number | null;
}

/**
 * What a price leaves over the cost of a piece.
 *
 * @param taxPpm the tax that is in the price, in parts per million; 0: none is
 */
export function marginOf(priceMinor: number, taxPpm: number, costMinor: MinorUnits): Margin {
  const net = roundHalfUp(BigInt(priceMinor) * MILLION, MILLION + BigInt(taxPpm));
  const margin = net - BigInt(costMinor);
  const size = margin < 0n ? -margin : margin;
  const share = net === 0n ? null : Number(roundHalfUp(size * BASIS_POINTS, net)) * (margin < 0n ? -1 : 1);
  return { netMinor: minorUnits(net), marginMinor: Number(margin), shareBasisPoints: share };
}
