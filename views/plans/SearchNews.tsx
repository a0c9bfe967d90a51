import { SearchAnswer, SearchTroubles } from "./SearchAnswer.tsx";
import type { SearchFigures } from "./searchFigures.ts";

/** What a page that watches a search is sent: how far it is, and the answer where it is another than before. */
export function SearchNews({ search, isNew }: { readonly search: SearchFigures; readonly isNew: boolean }) {
  return (
    <>
      {isNew && <SearchAnswer search={search} />}
      {isNew && <SearchTroubles search={search} />}
      {isNew && <ShownPlanField search={search} />}
      <SearchProgress search={search} />
    </>
  );
}

/** Which plan is being looked at: what is accepted is that one, also when a better one has been found since. */
export function ShownPlanField({ search }: { readonly search: SearchFigures }) {
  const { best } = search;
  return <input type="hidden" id="shown-plan" name="plan" value={best?.number ?? ""} hx-swap-oob="true" />;
}

export function SearchProgress({ search }: { readonly search: SearchFigures }) {
  const { isAsking, progress, seconds } = search;
  const words = isAsking
    ? "Searched. Now asking what holds the workshop up…"
    : `Searching: ${Math.floor(progress * seconds)} of at most ${Math.ceil(seconds)} seconds.`;
  return (
    <p id="search-progress" class="search-progress" hx-swap-oob="true">
      <label for="progress">{words}</label>
      <progress id="progress" max={100} value={isAsking ? undefined : Math.round(progress * 100)} />
    </p>
  );
}
