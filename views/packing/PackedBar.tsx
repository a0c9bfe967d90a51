/** How full a line is, as a bar: sent, in the box, still to come. It says nothing that the words beside it don't. */
export function PackedBar({
  line: { ordered, packed, shipped },
}: {
  readonly line: { readonly ordered: number; readonly packed: number; readonly shipped: number };
}) {
  return (
    <svg class="packed-bar" viewBox={`0 0 ${ordered} 10`} preserveAspectRatio="none" aria-hidden="true">
      <rect class="packed-part" width={packed} height="10" />
      <rect class="sent-part" width={shipped} height="10" />
    </svg>
  );
}
