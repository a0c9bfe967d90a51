import { Form } from "../components/Form.tsx";
import { whenWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { SearchAnswer, SearchTroubles } from "./SearchAnswer.tsx";
import { SearchProgress, ShownPlanField } from "./SearchNews.tsx";
import type { SearchFigures } from "./searchFigures.ts";

/**
 * A search that goes on. The server sends what is new; without JavaScript the page is asked for again. The buttons stay
 * what and where they are while plans get better: only the number of the plan they speak of changes.
 */
export function SearchPage({ search, now }: { readonly search: SearchFigures; readonly now: Date }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <>
      <p class="trail">
        <a href="/plans">All plans</a>
      </p>
      <div id="search" class="search-answer" aria-live="polite" {...WATCHES}>
        <SearchAnswer search={search} />
      </div>
      <SearchProgress search={search} />
      <div class="plan-actions">
        <Form action="/plan/search/acceptance" class="actions">
          <input type="hidden" name="search" value={search.searchId} />
          <ShownPlanField search={search} />
          <button type="submit">Accept this plan</button>
          <span class="aside">The search ends; its runs then stand on the Bench.</span>
        </Form>
        <Form action="/plan/search/end" class="actions">
          <input type="hidden" name="search" value={search.searchId} />
          <button type="submit" class="quiet">
            Stop here and look at it whole
          </button>
          <span class="aside">There it also says what moves, where another plan is followed.</span>
        </Form>
      </div>
      <SearchTroubles search={search} />
      <p class="aside">
        Asked for by {search.askedBy} {whenWords(search.askedAt, now, timeZone)}. You may leave: the search
        goes on, and its plan is kept under <a href="/plans">All plans</a>.
      </p>
      <noscript>
        <p>
          <a href="/plan/search">See how far it is now</a>
        </p>
      </noscript>
      <div hx-get="/plan/search" hx-trigger="over from:#search" hx-target="#main" />
    </>
  );
}

/** Where the news come from, and the event after which no more will. */
const WATCHES = { "hx-sse:connect": "/plan/search/news", "hx-sse:close": "over" };
