import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords, shortDayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import { InTheBox } from "./InTheBox.tsx";
import { PackedBar } from "./PackedBar.tsx";
import type { PackingAnswer } from "./PackOrderPage.tsx";
import { PackSuggestion, TakeByHand } from "./TakePieces.tsx";

/** A lot on the shelf, or on its way there. */
interface ShelfLot {
  readonly id: number;
  readonly code: string;
  readonly units: number;
  readonly readyAt: Date | null;
  readonly shelfPlace: string;
}

interface EarlierPromise {
  readonly orderId: number;
  readonly reference: string;
  readonly shipBy: string;
  readonly units: number;
}

export interface LineToPack {
  readonly lineId: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly ordered: number;
  readonly packed: number;
  readonly shipped: number;
  readonly left: number;
  readonly inTheBox: readonly { readonly lotId: number; readonly lotCode: string; readonly units: number }[];
  readonly suggestion: readonly (ShelfLot & { readonly take: number })[];
  readonly shelf: readonly ShelfLot[];
  readonly waiting: readonly (ShelfLot & { readonly take: number; readonly readyDueAt: Date })[];
  readonly missing: number;
  readonly countedOn: readonly EarlierPromise[];
  readonly owed: readonly EarlierPromise[];
}

/** Where a line stands, for its forms. */
interface LinePlace {
  readonly orderId: number;
  readonly lastMoveSeen: number;
  readonly changeable: boolean;
  readonly timeZone: string;
}

export interface LinePartProps {
  readonly line: LineToPack;
  readonly place: LinePlace;
  readonly answer: PackingAnswer | null;
}

/** One line: how far it is, what to take next, what it waits for, and what is in the box. */
export function LineSheet({ line, place, answer }: LinePartProps) {
  const wantsMore = place.changeable && line.left > 0;
  // When the button that packs is gone, the count takes its id: the focus comes to stand on what has become of it.
  const suggests = wantsMore && line.suggestion.length > 0;
  return (
    <section class="sheet line-sheet" id={`line-${line.lineId}`} aria-label={line.product}>
      <div class="row">
        <h2>
          <Swatch look={line.look} />
          {line.product}
        </h2>
        <p class="line-count" {...(suggests ? {} : { id: `pack-${line.lineId}`, tabIndex: -1 })}>
          <strong>
            {wholeWords(line.packed)} of {wholeWords(line.ordered)}
          </strong>{" "}
          packed{line.left > 0 && `, ${wholeWords(line.left)} left`}
          {line.shipped > 0 && `, ${wholeWords(line.shipped)} sent already`}
        </p>
      </div>
      <PackedBar line={line} />
      <div id={`said-${line.lineId}`} hx-morph-skip>
        {answer && <LineMistake answer={answer} />}
      </div>
      {suggests && <PackSuggestion line={line} place={place} />}
      {wantsMore && <NotYet line={line} timeZone={place.timeZone} />}
      {wantsMore && line.shelf.length > 0 && <TakeByHand line={line} place={place} answer={answer} />}
      {line.inTheBox.length > 0 && <InTheBox line={line} place={place} answer={answer} />}
      <Owed owed={line.owed} />
    </section>
  );
}

function LineMistake({ answer: { answer } }: { readonly answer: PackingAnswer }) {
  const sentence = answer.mistakes[""];
  return sentence ? (
    <p class="mistake form-mistake" role="alert">
      {sentence}
    </p>
  ) : null;
}

/** Why not all that is left can be taken now. */
function NotYet({ line, timeZone }: { readonly line: LineToPack; readonly timeZone: string }) {
  const { waiting, missing, countedOn } = line;
  if (waiting.length + countedOn.length === 0 && missing === 0) return null;
  return (
    <ul class="not-yet">
      {countedOn.map(({ orderId, reference, shipBy, units }) => (
        <li key={orderId}>
          {pieces(units)} more on the shelf {units === 1 ? "is" : "are"} promised to{" "}
          <a href={`/packing/${orderId}`}>
            <Unbroken words={reference} />
          </a>
          , which leaves by {shortDayWords(shipBy)}.
        </li>
      ))}
      {waiting.map(({ id, code, take, readyDueAt }) => (
        <li key={id}>
          {wholeWords(take)} of lot <span class="lot">{code}</span> must dry until{" "}
          {momentWords(readyDueAt, timeZone)}.
        </li>
      ))}
      {missing > 0 && (
        <li>
          {pieces(missing)} {missing === 1 ? "is" : "are"} not made yet.
        </li>
      )}
    </ul>
  );
}

/** Said, not forbidden: the packer may know better. */
function Owed({ owed }: { readonly owed: readonly EarlierPromise[] }) {
  if (owed.length === 0) return null;
  return (
    <p class="notice">
      An earlier promise counts on pieces like these:{" "}
      {owed.map(({ orderId, reference, shipBy, units }, place) => (
        <span key={orderId}>
          {place > 0 && "; "}
          <a href={`/packing/${orderId}`}>
            <Unbroken words={reference} />
          </a>
          , which leaves by {shortDayWords(shipBy)}, lacks {wholeWords(units)}
        </span>
      ))}
      .
    </p>
  );
}
