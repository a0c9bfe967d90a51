import { dayWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import type { StandingContent } from "./orderForm.ts";

/** How an order stands now, shown above a form that was filled in on an older state of it. */
export function StandingOrder({ newer }: { readonly newer: StandingContent }) {
  return (
    <section class="notice" role="alert">
      <p>
        <strong>Somebody changed this order while you were at it.</strong> It now says:
      </p>
      <p>
        {newer.reference} for {newer.customer}, by {dayWords(newer.shipBy)}
        {newer.note && <>, note: {newer.note}</>}
      </p>
      <ul>
        {newer.lines.map(({ product, units, packed }) => (
          <li key={product}>
            {product}: {pieces(units)}
            {packed > 0 && `, ${packed} packed`}
          </li>
        ))}
      </ul>
      <p>Below is what you typed. Saving it now puts it in place of the above.</p>
    </section>
  );
}
