/** Most characters a shelf place has: it is written on the board's edge and read from where one stands. */
export const mostPlaceCharacters = 12;

const byWords = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** Along the shelf as it is lettered: A2 before A10 before B1; what has no place comes last. */
export function alongTheShelf(
  one: { readonly shelfPlace: string },
  other: { readonly shelfPlace: string },
): number {
  if (one.shelfPlace === "" || other.shelfPlace === "")
    return Number(one.shelfPlace === "") - Number(other.shelfPlace === "");
  return byWords.compare(one.shelfPlace, other.shelfPlace);
}
