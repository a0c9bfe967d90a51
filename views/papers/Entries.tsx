import { Form } from "../components/Form.tsx";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";

export type EntryKind = "received" | "early-discount" | "let-off" | "paid-back";

export interface Entry {
  readonly id: number;
  readonly kind: EntryKind;
  readonly amountMinor: number;
  readonly paidOn: string;
  readonly words: string;
  readonly person: string | null;
  readonly takesBackId: number | null;
  readonly takenBack: boolean;
}

export const entryNames: Readonly<Record<EntryKind, string>> = {
  received: "Money received",
  "early-discount": "Discount for paying early",
  "let-off": "Let off",
  "paid-back": "Paid back to the customer",
};

/** What was entered to an invoice, in order; each can be taken back once. */
export function Entries({
  invoiceId,
  currency,
  entries,
}: {
  readonly invoiceId: number;
  readonly currency: string;
  readonly entries: readonly Entry[];
}) {
  if (entries.length === 0) return null;
  return (
    <ul class="plain-list">
      {entries.map((entry) => (
        <li key={entry.id} class="with-button">
          <div class="row">
            <span>
              {shortDayWords(entry.paidOn)}: {entryWords(entry)} {moneyWords(entry.amountMinor, currency)}
              {entry.words && <span class="aside"> {entry.words}</span>}
            </span>
            {entry.takesBackId === null && !entry.takenBack && (
              <Form action={`/invoices/${invoiceId}/payments/${entry.id}/counter-entry`}>
                <button type="submit" class="quiet">
                  Take back
                </button>
              </Form>
            )}
          </div>
        </li>
      ))}
    </ul>
  );
}

function entryWords({ kind, takesBackId, takenBack }: Entry): string {
  if (takesBackId !== null) return `${entryNames[kind]}, counter entry,`;
  return takenBack ? `${entryNames[kind]}, taken back since,` : entryNames[kind];
}
