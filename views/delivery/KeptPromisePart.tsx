import type { KeptPromise } from "../../server/delivery/promiseQueries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import { verdictWords } from "./keptWords.ts";

/** What the customer was promised and what left when, side by side. */
export function KeptPromisePart({ kept }: { readonly kept: KeptPromise }) {
  return (
    <>
      <h2>What was promised, and what left</h2>
      <p>
        Promised for {dayWords(kept.shipBy)}:{" "}
        <StateMark words={verdictWords(kept.verdict)} urgent={kept.verdict === "late"} />
      </p>
      <Moved kept={kept} />
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Product</th>
            <th scope="col" class="number">
              Promised
            </th>
            <th scope="col" class="number">
              Left by then
            </th>
            <th scope="col" class="number">
              Left later
            </th>
            <th scope="col" class="number">
              Never left
            </th>
            <th scope="col">Last left</th>
          </tr>
        </thead>
        <tbody>
          {kept.lines.map((line) => (
            <KeptRow key={line.productId} line={line} />
          ))}
        </tbody>
      </table>
    </>
  );
}

function KeptRow({ line }: { readonly line: KeptPromise["lines"][number] }) {
  const { product, promised, inTime, later, lastLeftOn } = line;
  const short = Math.max(0, promised - inTime - later);
  return (
    <tr>
      <th scope="row">{product}</th>
      <td data-label="Promised" class="number">
        {wholeWords(promised)}
      </td>
      <td data-label="Left by then" class="number">
        {wholeWords(inTime)}
      </td>
      <td data-label="Left later" class="number">
        {later > 0 ? <strong>{wholeWords(later)}</strong> : "0"}
      </td>
      <td data-label="Never left" class="number">
        {short > 0 ? <strong>{wholeWords(short)}</strong> : "0"}
      </td>
      <td data-label="Last left">{lastLeftOn === null ? "nothing yet" : shortDayWords(lastLeftOn)}</td>
    </tr>
  );
}

/** Dates that were promised before or after the one that counts: a date that was moved is never hidden. */
function Moved({ kept: { promises, shipBy, madeOn } }: { readonly kept: KeptPromise }) {
  const others = promises.filter((promise) => promise.shipBy !== shipBy);
  if (others.length === 0) return null;
  return (
    <ul class="plain-list">
      {others.map((promise, place) => (
        <li key={place}>
          {promise.madeOn > shipBy
            ? `Moved to ${shortDayWords(promise.shipBy)} on ${shortDayWords(promise.madeOn)}, when the date had gone by: it counts all the same.`
            : `Promised for ${shortDayWords(promise.shipBy)} on ${shortDayWords(promise.madeOn)}, moved by ${shortDayWords(madeOn)}.`}
        </li>
      ))}
    </ul>
  );
}
