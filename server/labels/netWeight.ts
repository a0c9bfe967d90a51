/*
 * The net weight on a label, in grams and in ounces. What is declared may be less than what is there, never more:
 * rounded net contents must not overstate, and the packer may round down (NIST Handbook 130, uniform packaging and
 * labeling regulation). Counted in whole milligrams and hundredths of an ounce.
 */

/** Nanograms in an avoirdupois ounce: 437.5 grains of 64.798 91 mg (NIST Handbook 44, appendix C). */
const OUNCE_NANOGRAMS = 28_349_523_125n;
const MILLIGRAM_NANOGRAMS = 1_000_000n;
/** At most two decimals of an ounce (21 CFR 701.13(d), from memory). */
const HUNDREDTHS = 100n;

/** What a label says of the weight. */
export interface NetWeight {
  readonly milligrams: number;
  readonly ounceHundredths: number;
}

/** From here on whole grams, below it tenths: a tenth of a gram says nothing of a large piece. */
const WHOLE_GRAMS_FROM = 10_000;

/** The most a label may declare of a piece that weighs so much dry: grams and ounces, each rounded down by itself. */
export function mostDeclarable(dryMilligrams: number): NetWeight {
  const step = dryMilligrams >= WHOLE_GRAMS_FROM ? 1000 : 100;
  return {
    milligrams: Math.floor(dryMilligrams / step) * step,
    ounceHundredths: Number((BigInt(dryMilligrams) * MILLIGRAM_NANOGRAMS * HUNDREDTHS) / OUNCE_NANOGRAMS),
  };
}

/** Which of the two numbers says more than the piece weighs dry; where they disagree, the larger one counts. */
export function overstated(declared: NetWeight, dryMilligrams: number): readonly ("grams" | "ounces")[] {
  const dry = BigInt(dryMilligrams) * MILLIGRAM_NANOGRAMS;
  const ounces = BigInt(declared.ounceHundredths) * OUNCE_NANOGRAMS;
  return [
    ...(declared.milligrams > dryMilligrams ? (["grams"] as const) : []),
    ...(ounces > dry * HUNDREDTHS ? (["ounces"] as const) : []),
  ];
}
