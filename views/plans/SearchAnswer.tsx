import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { minutesWords } from "../format/quantities.ts";
import { fateWords, pieceDays, qualityWords, soFarHeadline } from "./planWords.ts";
import type { BestSoFar, SearchFigures } from "./searchFigures.ts";

/** Orders in trouble that are named while the search goes on; the plan's own page names all. */
const MOST_NAMED = 8;

/** The best plan so far: what becomes of the orders, and how good it is. */
export function SearchAnswer({ search }: { readonly search: SearchFigures }) {
  const { best } = search;
  if (best === null) return <h1>Looking for a first plan…</h1>;
  return (
    <>
      <h1>
        <Unbroken words={soFarHeadline(best.orders)} />
      </h1>
      {best.whileAsking && (
        <p class="notice">A better plan turned up while asking what holds the workshop up: this is it.</p>
      )}
      <p>
        {qualityWords(best)} What it makes takes {minutesWords(best.handMinutes)} of hands.
      </p>
      <SinceTheFirst best={best} firstCost={search.firstCost} />
    </>
  );
}

function SinceTheFirst({ best, firstCost }: { readonly best: BestSoFar; readonly firstCost: number }) {
  if (best.number === 1) return <p class="aside">This is the first plan found.</p>;
  const saved = firstCost - best.cost;
  return (
    <p class="aside">
      Plan {best.number} of this search
      {saved > 0 ? `: ${pieceDays(saved)} less than the first.` : ": as late as the first, with less work."}
    </p>
  );
}

/** Which orders are in trouble, below the buttons: however many there are, the buttons keep their place. */
export function SearchTroubles({ search }: { readonly search: SearchFigures }) {
  const troubled = (search.best?.orders ?? []).filter(({ fate }) => fate === "late" || fate === "short");
  return (
    <div id="search-troubles" hx-swap-oob="true">
      {troubled.length > 0 && (
        <ul class="plain-list">
          {troubled.slice(0, MOST_NAMED).map((order) => (
            <li key={order.reference}>
              <Unbroken words={order.reference} /> {order.customer}, ship by {shortDayWords(order.shipBy)}:{" "}
              <StateMark words={fateWords[order.fate](order)} urgent />
            </li>
          ))}
        </ul>
      )}
      {troubled.length > MOST_NAMED && <p class="aside">And {troubled.length - MOST_NAMED} more.</p>}
    </div>
  );
}
