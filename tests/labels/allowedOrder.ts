interface Listed {
  readonly kind: string;
  readonly milligramsPerKilogram: number;
}

/**
 * Whether a list of ingredients stands in an order that is allowed: above one per cent by weight, then the rest in any order,
 * colours in any order at the end (21 CFR 701.3(f); Regulation (EC) 1223/2009, Article 19(1)(g), both by a secondary text).
 */
export function isAllowedOrder(listed: readonly Listed[]): boolean {
  const firstColour = listed.findIndex(({ kind }) => kind === "colour");
  const others = firstColour < 0 ? listed : listed.slice(0, firstColour);
  if (firstColour >= 0 && listed.slice(firstColour).some(({ kind }) => kind !== "colour")) return false;
  return others.every(
    ({ milligramsPerKilogram }, place) =>
      milligramsPerKilogram <= 10_000 ||
      others.slice(0, place).every((before) => before.milligramsPerKilogram >= milligramsPerKilogram),
  );
}
