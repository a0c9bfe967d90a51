import { momentWords } from "../format/dates.ts";
import { spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { changeWords, type EndangeredOrder, endangeredWords, placeOf } from "./endangeredWords.ts";

/** Promises of the followed plan that what happened since puts in danger, and what did it. Null: nobody could find out. */
export function EndangeredOrders({ endangered }: { readonly endangered: readonly EndangeredOrder[] | null }) {
  const { person } = usePageContext();
  if (endangered === null)
    return <p class="aside">Whether the plan's promises still hold could not be found out now.</p>;
  if (endangered.length === 0) return <p class="aside">Every promise of the plan can still be kept.</p>;
  return (
    <>
      <h2>Promises in danger</h2>
      <ul class="plain-list">
        {endangered.map((one) => (
          <EndangeredRow key={one.order} one={one} />
        ))}
      </ul>
      {person?.role === "owner" && (
        <p>
          <a href="/plan">Plan again around it</a>
        </p>
      )}
    </>
  );
}

function EndangeredRow({ one }: { readonly one: EndangeredOrder }) {
  const { person, workshop } = usePageContext();
  const owner = person?.role === "owner";
  const { because } = one;
  const place = because && placeOf(because, owner);
  const href = `/${owner ? "orders" : "packing"}/${one.orderId}`;
  return (
    <li>
      {one.orderId === null ? one.order : <a href={href}>{one.order}</a>} {one.customer}
      <span class="aside said">{endangeredWords(one)}</span>
      <span class="said">
        {because === null ? (
          "No single change was found that did it alone."
        ) : (
          <>
            {place === null ? (
              sentence(changeWords(because))
            ) : (
              <a href={place}>{sentence(changeWords(because))}</a>
            )}
            {because.entry && (
              <span class="aside">
                {" "}
                {because.entry.person ?? "by itself"},{" "}
                {momentWords(because.entry.at, workshop?.timeZone ?? "UTC")}
              </span>
            )}
          </>
        )}
      </span>
    </li>
  );
}

/** Stands on the page until the answer is there; without JavaScript it is a link to it. */
export function EndangeredPlace() {
  return (
    <section hx-get="/week/promises" hx-trigger="load" hx-swap="innerHTML">
      <p>
        <a href="/week/promises">Does what happened since endanger a promise?</a>
      </p>
    </section>
  );
}

/** The answer as a page of its own. */
export function EndangeredPage({ endangered }: { readonly endangered: readonly EndangeredOrder[] | null }) {
  const count = endangered?.length ?? 0;
  return (
    <>
      <p class="trail">
        <a href="/week">Week</a>
      </p>
      <h1>
        {count > 0
          ? sentence(`${spelled(count, "promise")} ${count === 1 ? "is" : "are"} in danger`)
          : "No promise is known to be in danger."}
      </h1>
      <EndangeredOrders endangered={endangered} />
    </>
  );
}
