import type { Market } from "./markets.ts";
import { INCH_MICROMETRES } from "./sheet.ts";

/*
 * How tall letters have to be. Lengths are whole micrometres, areas square millimetres; an inch is 25.4 mm exactly.
 * Heights are of a capital letter, or of a small "o" where capitals and small letters are mixed.
 */

const SQUARE_INCH_SQUARE_MM = 25.4 * 25.4;

/** The part of a package that a customer looks at, as far as it is the label itself. */
export interface Panel {
  readonly widthMicrometres: number;
  readonly heightMicrometres: number;
  readonly isRound: boolean;
}

/** Area of a label in square millimetres: height times width, or the circle. */
export function panelArea({ widthMicrometres, heightMicrometres, isRound }: Panel): number {
  const box = (widthMicrometres / 1000) * (heightMicrometres / 1000);
  return isRound ? (box * Math.PI) / 4 : box;
}

/** Square inches up to which a height will do: exactly 5, 25 and 100 stay in the lower step. */
const panelSteps = [
  { upTo: 5, sixteenths: 1 },
  { upTo: 25, sixteenths: 2 },
  { upTo: 100, sixteenths: 3 },
];
const mostSixteenths = 4;

/** Grams up to which a height will do. */
const gramSteps = [
  { upTo: 50, micrometres: 2000 },
  { upTo: 200, micrometres: 3000 },
  { upTo: 1000, micrometres: 4000 },
];
const mostMicrometres = 6000;

/** An area as it is compared with a step: what a computer's fractions add is not an area. */
const NOISE_SQUARE_INCHES = 1e-9;

/**
 * Least height of the net weight; null where no market is chosen. In the United States it goes by the area of the panel (21
 * CFR 701.13(h), (i); 16 CFR 500.21(b); the steps from memory), in the European Union and the United Kingdom by the weight
 * (Directive 76/211/EEC, annex I, and the Weights and Measures (Packaged Goods) Regulations 2006; both from memory).
 */
export function leastWeightHeight(market: Market, panel: Panel, milligrams: number): number | null {
  if (market === "none") return null;
  if (market === "us") {
    const squareInches = panelArea(panel) / SQUARE_INCH_SQUARE_MM - NOISE_SQUARE_INCHES;
    const step = panelSteps.find(({ upTo }) => squareInches <= upTo);
    return ((step?.sixteenths ?? mostSixteenths) * INCH_MICROMETRES) / 16;
  }
  return gramSteps.find(({ upTo }) => milligrams <= upTo * 1000)?.micrometres ?? mostMicrometres;
}

/** Square inches of label from which ingredients need the full height. */
const FULL_HEIGHT_FROM = 12;

/**
 * Least height of ingredients; null where the market names none. United States: 1/16 in (21 CFR 701.3(b)), and 1/32 in where
 * there are less than 12 square inches to label (701.3(p), from memory). The European Union and the United Kingdom ask for
 * "easily legible" letters and give no number (Regulation (EC) 1223/2009, Article 19(1)).
 */
export function leastIngredientHeight(market: Market, panel: Panel): number | null {
  if (market !== "us") return null;
  const isSmall = panelArea(panel) / SQUARE_INCH_SQUARE_MM + NOISE_SQUARE_INCHES < FULL_HEIGHT_FROM;
  return INCH_MICROMETRES / (isSmall ? 32 : 16);
}

/** Least height of a warning in the United States: 1/16 in (21 CFR 740.2, from memory); null elsewhere. */
export function leastWarningHeight(market: Market): number | null {
  return market === "us" ? INCH_MICROMETRES / 16 : null;
}

/**
 * The least height of a small letter where a market asks for legible words and gives no number, and where none is chosen:
 * what food law asks for on its smallest packages (Regulation (EU) 1169/2011, Article 13(3), from memory), as a yardstick.
 */
export const LEGIBLE_MICROMETRES = 900;
