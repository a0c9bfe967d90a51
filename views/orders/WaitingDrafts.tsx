import type { WaitingDraft } from "../../server/stockist/waitingDrafts.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";

/** Drafts that came by themselves, from standing orders and from shops' own order pages, to say yes to. */
export function WaitingDrafts({ drafts }: { readonly drafts: readonly WaitingDraft[] }) {
  if (drafts.length === 0) return null;
  return (
    <section>
      <h2>{sentence(waitingWords(drafts.length)).slice(0, -1)}</h2>
      <ul class="plain-list">
        {drafts.map((draft) => (
          <li key={draft.id} class="row">
            <span>
              <a class="order-link" href={`/orders/${draft.id}`}>
                <Unbroken words={draft.reference} />
              </a>{" "}
              {draft.customer}
              <span class="aside said">
                {draft.source === "standing" ? "standing order" : "sent from its order page"}:{" "}
                {pieces(draft.units)}
                {draft.neededBy && `, needed on ${shortDayWords(draft.neededBy)}`}
              </span>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** "three drafts wait for your yes" */
export function waitingWords(drafts: number): string {
  return `${spelled(drafts, "draft")} ${drafts === 1 ? "waits" : "wait"} for your yes`;
}
