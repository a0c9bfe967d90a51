import { LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { momentWords } from "../format/dates.ts";

/** What whoever packs or ships an order should know. */
export interface PackingNote {
  readonly id: number;
  readonly words: string;
  readonly at: Date;
  readonly person: string | null;
}

interface PackingNotesProps {
  readonly orderId: number;
  readonly notes: readonly PackingNote[];
  readonly timeZone: string;
}

export function PackingNotes({ orderId, notes, timeZone }: PackingNotesProps) {
  if (notes.length === 0) return null;
  return (
    <ul class="plain-list packing-notes" aria-label="Packing notes">
      {notes.map(({ id, words, at, person }) => (
        <li key={id} class="notice row">
          <span>
            <strong class="packing-note">{words}</strong>{" "}
            <span class="aside">
              {person ?? "nobody was noted"}, {momentWords(at, timeZone)}
            </span>
          </span>
          <Form action={`/packing/${orderId}/notes/${id}/removal`} class="inline">
            <button type="submit" class="quiet" aria-label={`Done with the note: ${words}`}>
              Done with it
            </button>
          </Form>
        </li>
      ))}
    </ul>
  );
}

export function NoteForm({ orderId, answer }: { readonly orderId: number; readonly answer: FormAnswer }) {
  const address = `/packing/${orderId}/notes`;
  const isOpen = Object.keys(answer.mistakes).length > 0;
  return (
    <details class="by-hand" id="note-part" open={isOpen} hx-morph-skip>
      <summary>Leave a packing note</summary>
      <Form action={address} hx-post={address} hx-target="#main" class="narrow">
        <LongField
          name="note"
          label="Packing note"
          hint="Shown to whoever packs this order and sends it off."
          rows={2}
          answer={answer}
        />
        <button type="submit" class="quiet">
          Leave the note
        </button>
      </Form>
    </details>
  );
}
