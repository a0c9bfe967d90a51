import type { GatheredList, GatheredTake } from "../../server/packing/gatheredList.ts";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { counted, pieces, spelled, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { LeavesBy } from "./PackingPage.tsx";

interface GatheredPageProps {
  readonly list: GatheredList;
  readonly today: string;
}

/** What to take for several orders in one walk along the shelf; also on paper. */
export function GatheredPage({ list, today }: GatheredPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/packing">Packing</a>
      </p>
      <h1>
        <Unbroken words={answerOf(list)} />
      </h1>
      {list.takes.length > 0 && (
        <>
          <Takes takes={list.takes} />
          <p class="actions not-printed">
            <a class="button quiet" href={paperAddress(list)} download>
              List as a PDF, to tick off
            </a>
          </p>
        </>
      )}
      {list.orders.length > 0 && <ChooseOrders list={list} today={today} />}
    </>
  );
}

/** Of the orders on the page, whatever could be packed whole by the time it is asked for. */
function paperAddress({ orders }: GatheredList): string {
  const chosen = orders.filter(({ isChosen }) => isChosen).map(({ orderId }) => `order=${orderId}`);
  return `/packing/gathered/list.pdf?${chosen.join("&")}`;
}

function answerOf({ orders, takes }: GatheredList): string {
  const chosen = orders.filter((order) => order.isChosen);
  if (orders.length === 0) return "Nothing on the shelf is free for any order now.";
  if (chosen.length === 0)
    return "No order is chosen, or none can be packed whole now: tick those to gather for.";
  const units = takes.reduce((sum, take) => sum + take.units, 0);
  const [first] = chosen;
  const whom = chosen.length === 1 && first ? first.reference : spelled(chosen.length, "order").toLowerCase();
  return sentence(`Take ${pieces(units)} from ${counted(takes.length, "lot")} for ${whom}`);
}

function Takes({ takes }: { readonly takes: readonly GatheredTake[] }) {
  return (
    <>
      <p class="aside">Along the shelf by place; lots that have no place come last.</p>
      <table class="stack gathered">
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col" class="number">
              Take
            </th>
            <th scope="col">Lot</th>
            <th scope="col">For</th>
          </tr>
        </thead>
        <tbody>
          {takes.map((take) => (
            <TakeRow key={take.lotId} take={take} />
          ))}
        </tbody>
      </table>
    </>
  );
}

function TakeRow({ take }: { readonly take: GatheredTake }) {
  return (
    <tr>
      <th scope="row">
        <span class="shelf-place">{take.shelfPlace || "no place"}</span>
      </th>
      <td class="number" data-label="Take">
        <strong class="take-units">{wholeWords(take.units)}</strong>
      </td>
      <td data-label="Lot">
        <span class="lot">{take.code}</span> <Swatch look={take.look} />
        {take.product}
      </td>
      <td data-label="For">
        {take.for.map(({ orderId, reference, units }, place) => (
          <span key={orderId}>
            {place > 0 && ", "}
            <a href={`/packing/${orderId}`}>
              <Unbroken words={reference} />
            </a>{" "}
            <strong>{wholeWords(units)}</strong>
          </span>
        ))}
      </td>
    </tr>
  );
}

function ChooseOrders({ list, today }: GatheredPageProps) {
  return (
    <form method="get" action="/packing/gathered" class="narrow not-printed">
      <input type="hidden" name="chosen" value="yes" />
      <fieldset>
        <legend>Which orders to gather for</legend>
        <ul class="plain-list">
          {list.orders.map(({ orderId, reference, customer, shipBy, left, free, isChosen }) => (
            <li key={orderId} class="field tick">
              <label>
                <input type="checkbox" name="order" value={orderId} checked={isChosen} />
                <span>
                  <strong>
                    <Unbroken words={reference} />
                  </strong>{" "}
                  {customer}:{" "}
                  {free === left ? `all ${pieces(left)}` : `${wholeWords(free)} of ${pieces(left)}`}, leaves
                  by <LeavesBy shipBy={shipBy} today={today} />
                </span>
              </label>
            </li>
          ))}
        </ul>
      </fieldset>
      <button type="submit">Gather for these</button>
    </form>
  );
}
