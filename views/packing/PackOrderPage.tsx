import type { StoppedPackaging } from "../../server/holds/packagingStops.ts";
import type { StoppedShelfLot } from "../../server/holds/queries.ts";
import type { OrderBoxes } from "../../server/packing/boxQueries.ts";
import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, freshForm } from "../components/formAnswer.ts";
import { PageNews } from "../components/PageNews.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { wholeWords } from "../format/quantities.ts";
import { StoppedInOrder } from "../holds/StoppedInOrder.tsx";
import { StoppedLots } from "../holds/StoppedLots.tsx";
import { termsWords } from "../orders/stateWords.ts";
import { LineSheet, type LineToPack } from "./LineSheet.tsx";
import { NoteForm, type PackingNote, PackingNotes } from "./PackingNotes.tsx";
import { LeavesBy } from "./PackingPage.tsx";
import { type LastMove, ScanPart } from "./ScanPart.tsx";
import { SuggestedBoxes } from "./SuggestedBoxes.tsx";

interface OrderAtTheTable {
  readonly id: number;
  readonly reference: string;
  readonly state: "draft" | "confirmed" | "packing" | "packed" | "shipped" | "delivered" | "cancelled";
  readonly terms: "complete" | "as-ready" | "market";
  readonly shipBy: string;
  readonly customer: string;
  readonly address: string;
  readonly lines: readonly LineToPack[];
  readonly notes: readonly PackingNote[];
  readonly lastMove: LastMove | null;
  /** Lots of its products of which nothing may be packed. */
  readonly stopped: readonly StoppedShelfLot[];
  readonly stoppedPackaging: readonly StoppedPackaging[];
  /** The number of the last entry in the ledger that this page knows of. */
  readonly lastMoveSeen: number;
}

/** What could not be done, and for which form: the lot field's, the note's, a line's, one lot's in its box, the order's. */
export interface PackingAnswer {
  /** Null: a line's, a lot's, or the one that closes the box. */
  readonly part: "scan" | "note" | null;
  readonly lineId: number | null;
  readonly lotId: number | null;
  readonly answer: FormAnswer;
}

interface PackOrderPageProps {
  readonly order: OrderAtTheTable;
  readonly boxes: OrderBoxes | null;
  readonly answer: PackingAnswer | null;
  /** Whether the packer goes on with the lot field. */
  readonly scansNext: boolean;
  readonly today: string;
  readonly timeZone: string;
}

/** One order at the packing table: what to take from where, line by line. */
export function PackOrderPage({ order, boxes, answer, scansNext, today, timeZone }: PackOrderPageProps) {
  const changeable = order.state === "confirmed" || order.state === "packing" || order.state === "packed";
  return (
    <>
      <p class="trail">
        <a href="/packing">Packing</a>
      </p>
      <h1>
        <Unbroken words={answerOf(order)} />
      </h1>
      <p>
        For <strong>{order.customer}</strong>, {termsWords(order.terms)}, leaves by{" "}
        <LeavesBy shipBy={order.shipBy} today={today} />
      </p>
      {order.address && <p class="address">{order.address}</p>}
      <PackingNotes orderId={order.id} notes={order.notes} timeZone={timeZone} />
      {changeable && <ScanPart order={order} answer={ofPart("scan", answer)} scansNext={scansNext} />}
      {order.lines.map((line) => (
        <LineSheet
          key={line.lineId}
          line={line}
          place={{ orderId: order.id, lastMoveSeen: order.lastMoveSeen, changeable, timeZone }}
          answer={answer?.lineId === line.lineId ? answer : null}
        />
      ))}
      <StoppedInOrder stopped={[]} packaging={order.stoppedPackaging} />
      <StoppedLots lots={order.stopped} timeZone={timeZone} />
      {boxes && changeable && <SuggestedBoxes boxes={boxes} what={whatIsBoxed(order)} />}
      <CloseBox order={order} hasBoxes={boxes !== null} answer={answerToTheOrder(order, answer)} />
      <NoteForm orderId={order.id} answer={ofPart("note", answer)} />
      {changeable && (
        <p class="actions">
          <a class="button quiet" href={`/packing/gathered?order=${order.id}`}>
            List on paper
          </a>
        </p>
      )}
      {changeable && (
        <p class="caution">
          Pack dry pieces only: damp ones make gas that can burst a closed bag or jar. Keep the dust out of
          eyes and lungs. These are the usual cautions; local rules and qualified advice come first.
        </p>
      )}
      <PageNews channel="packing" address={`/packing/${order.id}`} />
    </>
  );
}

function whatIsBoxed({ lines }: OrderAtTheTable): string {
  return lines.some((line) => line.shipped > 0) ? "What has not left yet" : "The whole order";
}

function ofPart(part: "scan" | "note", answer: PackingAnswer | null): FormAnswer {
  return answer?.part === part ? answer.answer : freshForm();
}

/** An answer that belongs to no line, or to one that was struck from the order meanwhile. */
function answerToTheOrder({ lines }: OrderAtTheTable, answer: PackingAnswer | null): FormAnswer | null {
  if (answer === null || answer.part !== null) return null;
  return lines.some((line) => line.lineId === answer.lineId) ? null : answer.answer;
}

function answerOf({ reference, state, lines }: OrderAtTheTable): string {
  const left = lines.reduce((sum, line) => sum + line.left, 0);
  const free = lines.reduce(
    (sum, line) => sum + line.suggestion.reduce((most, lot) => most + lot.take, 0),
    0,
  );
  switch (state) {
    case "draft":
      return `${reference} is a draft; it can be packed once it is confirmed.`;
    case "cancelled":
      return `${reference} is cancelled; nothing is packed for it.`;
    case "shipped":
      return `${reference} has left the workshop.`;
    case "delivered":
      return `${reference} has arrived.`;
    case "packed":
      return left > 0
        ? `${reference} is packed and leaves ${wholeWords(left)} short.`
        : `${reference} is packed whole and waits to leave.`;
    case "confirmed":
    case "packing":
      return toPackWords(reference, left, free);
  }
}

function toPackWords(reference: string, left: number, free: number): string {
  if (left === 0) return `${reference} is full: mark it as packed.`;
  if (free === left) return `All that ${reference} still needs is on the shelf: ${wholeWords(left)}.`;
  if (free === 0)
    return `Nothing for ${reference} is free on the shelf now; it still needs ${wholeWords(left)}.`;
  return `${wholeWords(free)} of the ${wholeWords(left)} pieces ${reference} still needs are free on the shelf.`;
}

/** Marking the order as packed, or the way on from there. */
function CloseBox({
  order,
  hasBoxes,
  answer,
}: {
  readonly order: OrderAtTheTable;
  /** Whether the shop has said what fills a box. */
  readonly hasBoxes: boolean;
  readonly answer: FormAnswer | null;
}) {
  const left = order.lines.reduce((sum, line) => sum + line.left, 0);
  const inTheBox = order.lines.reduce((sum, line) => sum + line.packed - line.shipped, 0);
  const begun = order.lines.some((line) => line.packed > 0);
  const mayClose = order.state === "packing" && begun && (left === 0 || order.terms === "market");
  const mayShip =
    order.state === "packed" || (order.state === "packing" && order.terms === "as-ready" && left > 0);
  return (
    <section class="close-box" aria-label="Closing the box">
      <div id="order-said" hx-morph-skip>
        {answer && <FormMistake answer={answer} />}
      </div>
      {mayClose && <CompletionForm orderId={order.id} left={left} />}
      {order.state === "packing" && !mayClose && (
        <p class="aside">
          {wholeWords(left)} still to pack before <Unbroken words={order.reference} /> can be marked as
          packed.
        </p>
      )}
      {inTheBox > 0 && (
        <p class="actions">
          <a class="button quiet" href={`/labels/orders/${order.id}/cards`}>
            Cards by lot
          </a>
          {hasBoxes && (
            <a class="button quiet" href={`/labels/orders/${order.id}/boxes`}>
              A card for each box
            </a>
          )}
        </p>
      )}
      {mayShip && inTheBox > 0 && (
        <p class="actions">
          <a
            // Takes the focus over from the button that marked the order.
            id={order.state === "packed" ? "mark-packed" : undefined}
            class={order.state === "packed" ? "button" : "button quiet"}
            href={`/delivery/orders/${order.id}`}
          >
            {order.state === "packed" ? "Send it off" : `Send off the ${wholeWords(inTheBox)} packed so far`}
          </a>
        </p>
      )}
    </section>
  );
}

function CompletionForm({ orderId, left }: { readonly orderId: number; readonly left: number }) {
  const address = `/packing/${orderId}/completion`;
  return (
    <Form action={address} hx-post={address} hx-target="#main">
      {left > 0 && (
        <div class="field tick">
          <label for="leaves_short">
            <input type="checkbox" id="leaves_short" name="leaves_short" value="yes" />
            <span>Leave with what there is: {wholeWords(left)} short</span>
          </label>
        </div>
      )}
      <button type="submit" id="mark-packed">
        Mark as packed
      </button>
    </Form>
  );
}
