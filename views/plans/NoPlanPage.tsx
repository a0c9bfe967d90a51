import { PlanNowForm } from "./PlanNowForm.tsx";
import { RunningSearch } from "./RunningSearch.tsx";

/** Where a plan will stand: the invitation to make one, or why there can't be one yet. */
export function NoPlanPage({
  obstacles,
  headline,
  isSearching = false,
}: {
  readonly headline: string;
  /** Whether a search runs that one can go and watch. */
  readonly isSearching?: boolean;
  /** Sentences, with where to go to settle it. */
  readonly obstacles: readonly { readonly words: string; readonly href?: string; readonly link?: string }[];
}) {
  return (
    <>
      <p class="trail">
        <a href="/plans">All plans</a>
      </p>
      <h1>{headline}</h1>
      {isSearching && <RunningSearch />}
      {obstacles.map(({ words, href, link }) => (
        <p key={words}>
          {words} {href && <a href={href}>{link}</a>}
        </p>
      ))}
      <PlanNowForm words={obstacles.length === 0 ? "Plan now" : "Try again"} />
      {obstacles.length === 0 && (
        <p class="aside">
          From the orders, the shelf, what is drying and your sessions comes what to mix when, what will be
          late, and what holds you up.
        </p>
      )}
    </>
  );
}
