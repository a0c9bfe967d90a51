/** The usual cautions of mixing and drying, where they are needed. They are no legal or medical advice. */
export function Cautions() {
  return (
    <aside class="caution" aria-label="Take care">
      <p>
        <strong>Dust.</strong> Foaming powders and fine acid irritate lungs and eyes: dust mask, eye
        protection, gentle sifting.
      </p>
      <p>
        <strong>Fire.</strong> Strong alcohol burns, and so does its vapour: no flame or hot plate, air the
        room, keep little of it open.
      </p>
      <p>
        <strong>Gas.</strong> Never close fresh or damp mix, or pieces that are not dry, airtight.
      </p>
      <p class="aside">Local rules and qualified advice come first.</p>
    </aside>
  );
}
