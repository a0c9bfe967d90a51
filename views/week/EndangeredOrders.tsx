import { momentWords } from "../format/dates.ts";
import { sentence } from "../format/sentence.ts";
import { usePageContext } from "../layout/pageContext.ts";
import {
  changeWords,
  type EndangeredOrder,
  endangeredWords,
  placeOf,
  type Watched,
  watchedHeadline,
} from "./endangeredWords.ts";

/** Promises of the followed plan that what happened since puts in danger, and what did it. */
export function EndangeredOrders({ watched }: { readonly watched: Watched }) {
  if (watched.kind !== "known" || watched.endangered.length === 0)
    return <p class="aside">{watchedHeadline(watched)}</p>;
  return (
    <>
      <h2>Promises in danger</h2>
      <EndangeredList endangered={watched.endangered} />
    </>
  );
}

function EndangeredList({ endangered }: { readonly endangered: readonly EndangeredOrder[] }) {
  const { person } = usePageContext();
  return (
    <>
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
export function EndangeredPage({ watched }: { readonly watched: Watched }) {
  return (
    <>
      <p class="trail">
        <a href="/week">Week</a>
      </p>
      <h1>{watchedHeadline(watched)}</h1>
      {watched.kind === "known" && watched.endangered.length > 0 && (
        <EndangeredList endangered={watched.endangered} />
      )}
    </>
  );
}
