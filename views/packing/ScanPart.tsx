import { Mistake, marked } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";

/** What was last put into the box or taken out of it. */
export interface LastMove {
  /** As in the lot's ledger: below zero for what was packed. */
  readonly units: number;
  readonly lotCode: string;
  readonly product: string;
  readonly person: string | null;
}

interface ScanPartProps {
  readonly order: {
    readonly id: number;
    readonly lastMoveSeen: number;
    readonly lastMove: LastMove | null;
    readonly lines: readonly { readonly left: number }[];
  };
  readonly answer: FormAnswer;
  readonly scansNext: boolean;
}

/** A lot that is in the packer's hand: its code typed, or read by a scanner that types. */
export function ScanPart({ order, answer, scansNext }: ScanPartProps) {
  const address = `/packing/${order.id}/scans`;
  const wantsMore = order.lines.some((line) => line.left > 0) || Object.keys(answer.mistakes).length > 0;
  return (
    <>
      {wantsMore && (
        <section class="sheet scan-part" id="scan-part" aria-label="Pack by lot code" hx-morph-skip>
          <Form action={address} hx-post={address} hx-target="#main">
            <input type="hidden" name="last_move" value={order.lastMoveSeen} />
            <ScanFields answer={answer} scansNext={scansNext} />
          </Form>
        </section>
      )}
      {/* When the lot field is gone, what has become of the last lot takes the focus over. */}
      <p role="status" {...(wantsMore ? { id: "last-packed" } : { id: "scanned-lot", tabIndex: -1 })}>
        {order.lastMove && lastMoveWords(order.lastMove)}
      </p>
    </>
  );
}

function ScanFields({ answer, scansNext }: Pick<ScanPartProps, "answer" | "scansNext">) {
  return (
    <>
      <div class="scan-fields">
        <div class="field">
          <label for="scanned-lot">Lot, typed or scanned</label>
          <input
            id="scanned-lot"
            name="scanned"
            class="lot-field"
            size={10}
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            enterkeyhint="go"
            autofocus={scansNext}
            value={typedText(answer, "scanned")}
            {...marked("scanned", answer)}
          />
        </div>
        <div class="field">
          <label for="scanned-units">Pieces</label>
          <input
            id="scanned-units"
            name="scanned_units"
            size={5}
            inputMode="numeric"
            autocomplete="off"
            placeholder="all"
            value={typedText(answer, "scanned_units")}
            {...marked("scanned_units", answer)}
          />
        </div>
        <button type="submit" id="pack-scanned">
          Pack
        </button>
      </div>
      <div role="alert">
        <Mistake name="scanned" answer={answer} />
        <Mistake name="scanned_units" answer={answer} />
        <Mistake name="last_move" answer={answer} />
      </div>
      <p class="hint">Without a number: all that the order still needs and the lot can give.</p>
    </>
  );
}

function lastMoveWords({ units, lotCode, product, person }: LastMove): string {
  const who = person ?? "Somebody";
  return units < 0
    ? `${who} packed ${wholeWords(-units)} of lot ${lotCode}, ${product}.`
    : `${who} took ${wholeWords(units)} of lot ${lotCode}, ${product}, out of the box.`;
}
