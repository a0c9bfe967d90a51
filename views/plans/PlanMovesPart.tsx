import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { clockWords, dateOf, shortDayWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import type { OrderFigures } from "./planFigures.ts";
import {
  inHandWords,
  type MovedOrder,
  type MovedPieces,
  type MovedSession,
  movesSentence,
  type PlanMoves,
} from "./planMoves.ts";
import { fateWords } from "./planWords.ts";

/** A proposed plan beside the one that is followed, orders first; what is the same in both is left out. */
export function PlanMovesPart({ moves }: { readonly moves: PlanMoves }) {
  return (
    <section>
      <h2 id="moves">What moves</h2>
      <p>
        {movesSentence(moves)} {inHandWords(moves)}
      </p>
      {moves.orders.length > 0 && <OrderMoves orders={moves.orders} planId={moves.planId} />}
      {moves.sessions.length > 0 && <SessionMoves sessions={moves.sessions} planId={moves.planId} />}
    </section>
  );
}

function OrderMoves({ orders, planId }: { readonly orders: readonly MovedOrder[]; readonly planId: number }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">Ship by</th>
          <th scope="col">Plan {planId}</th>
          <th scope="col">This plan</th>
        </tr>
      </thead>
      <tbody>
        {orders.map(({ followed, proposed }) => (
          <tr key={proposed.reference}>
            <th scope="row">
              <OrderName order={proposed} />
            </th>
            <td class="nowrap" data-label={proposed.market ? "Market" : "Ship by"}>
              {shortDayWords(proposed.shipBy)}
            </td>
            <td data-label={`Plan ${planId}`}>
              {followed === null ? "not there yet" : <Fate order={followed} />}
            </td>
            <td data-label="This plan">
              <Fate order={proposed} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function OrderName({ order: { reference, orderId, customer } }: { readonly order: OrderFigures }) {
  return (
    <>
      {orderId === null ? (
        <Unbroken words={reference} />
      ) : (
        <a href={`/orders/${orderId}`}>
          <Unbroken words={reference} />
        </a>
      )}{" "}
      <span class="aside order-of">{customer}</span>
    </>
  );
}

function Fate({ order }: { readonly order: OrderFigures }) {
  const { fate, readyOn } = order;
  return (
    <>
      {readyOn !== null && `${shortDayWords(readyOn)} `}
      <StateMark words={fateWords[fate](order)} urgent={fate === "late" || fate === "short"} />
    </>
  );
}

function SessionMoves({
  sessions,
  planId,
}: {
  readonly sessions: readonly MovedSession[];
  readonly planId: number;
}) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <details open={sessions.length <= 4}>
      <summary>What is mixed otherwise</summary>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Session</th>
            <th scope="col">Blend</th>
            <th scope="col">Plan {planId}</th>
            <th scope="col">This plan</th>
          </tr>
        </thead>
        <tbody>
          {sessions.flatMap(({ startsAt, endsAt, runs }) =>
            runs.map(({ look, followed, proposed }) => (
              <tr key={`${endsAt.toISOString()} ${look.name}`}>
                <th scope="row">
                  {shortDayWords(dateOf(startsAt, timeZone))}, {clockWords(startsAt, timeZone)}
                </th>
                <td data-label="Blend">
                  <Swatch look={look} />
                  {look.name}
                </td>
                <td data-label={`Plan ${planId}`}>{piecesWords(followed)}</td>
                <td data-label="This plan">{piecesWords(proposed)}</td>
              </tr>
            )),
          )}
        </tbody>
      </table>
    </details>
  );
}

function piecesWords(pieces: readonly MovedPieces[] | null): string {
  if (pieces === null) return "not mixed";
  return pieces.map(({ product, units }) => `${wholeWords(units)} × ${product}`).join(", ");
}
