import { momentWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { type HistoryEntry, historyWords } from "./historyWords.ts";

/** Who did what with the order and when, newest first. */
export function OrderHistory({ entries }: { readonly entries: readonly HistoryEntry[] }) {
  const { workshop } = usePageContext();
  if (entries.length === 0) return null;
  return (
    <>
      <h2>What happened</h2>
      <ol class="plain-list">
        {entries.map((entry) => (
          <li key={entry.id}>
            <span class="aside">
              {momentWords(entry.at, workshop?.timeZone ?? "UTC")}, {entry.person ?? "the system"}
            </span>
            <br />
            {historyWords(entry)}
          </li>
        ))}
      </ol>
    </>
  );
}
