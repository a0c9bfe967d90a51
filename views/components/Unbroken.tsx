/** Longer words may break: a page never scrolls sideways. */
const LONGEST_KEPT = 16;

/** Words in which a hyphened one, above all an order's reference such as "W-104", never breaks at its hyphen. */
export function Unbroken({ words }: { readonly words: string }) {
  return (
    <>
      {words
        .split(/(\S+-\S+)/)
        .map((part, place) =>
          place % 2 === 1 && part.length <= LONGEST_KEPT ? <span class="nowrap">{part}</span> : part,
        )}
    </>
  );
}
