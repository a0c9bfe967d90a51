/** From what is known of a supply to what there is of it, and to who sells it. */
export function SupplyLinks({ supplyId }: { readonly supplyId: number }) {
  return (
    <p class="actions">
      <a class="button quiet" href={`/supplies/${supplyId}`}>
        What there is of it
      </a>
      <a class="button quiet" href={`/setup/supplies/${supplyId}/packs`}>
        Who sells it, in what packs
      </a>
    </p>
  );
}
