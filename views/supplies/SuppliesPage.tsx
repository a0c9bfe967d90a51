import type { OnHand, Purchase, WeighedRunRow } from "../../server/supplies/ledgerQueries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { dayWords, momentWords, shortDayWords } from "../format/dates.ts";
import { isPackagingKind, onHandSentence, supplyAmountWords, supplyMarks } from "./supplyWords.ts";

interface SuppliesProps {
  readonly supplies: readonly OnHand[];
  readonly purchases: readonly Purchase[];
  readonly runs: readonly WeighedRunRow[];
  readonly today: string;
  readonly timeZone: string;
  readonly owner: boolean;
}

/** Everything that is bought: what there is of it, what expires next, what is on its way. */
export function SuppliesPage({ supplies, purchases, runs, today, timeZone, owner }: SuppliesProps) {
  const packed = supplies.filter(({ kind }) => isPackagingKind(kind));
  const mixed = supplies.filter(({ kind }) => !isPackagingKind(kind));
  return (
    <>
      <h1>{onHandSentence(supplies)}</h1>
      {owner && <OwnersWays />}
      <OnHandTable name="For the bowl" rows={mixed} today={today} />
      <OnHandTable name="For packing" rows={packed} today={today} />
      {purchases.length > 0 && <OnItsWay purchases={purchases} today={today} />}
      {runs.length > 0 && <WeighedRuns runs={runs} timeZone={timeZone} />}
    </>
  );
}

function OwnersWays() {
  return (
    <p class="actions">
      <a class="button" href="/supplies/to-buy">
        What to buy
      </a>
      <a class="button quiet" href="/costs">
        What a piece costs
      </a>
      <a class="button quiet" href="/trace">
        Follow a lot
      </a>
      <a class="button quiet" href="/setup/suppliers">
        Suppliers
      </a>
    </p>
  );
}

function OnHandTable({
  name,
  rows,
  today,
}: {
  readonly name: string;
  readonly rows: readonly OnHand[];
  readonly today: string;
}) {
  if (rows.length === 0) return null;
  return (
    <section>
      <h2>{name}</h2>
      <table class="stack on-hand">
        <thead>
          <tr>
            <th scope="col">Supply</th>
            <th scope="col" class="number">
              On hand
            </th>
            <th scope="col">Expires next</th>
            <th scope="col">To see to</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <OnHandRow key={row.id} row={row} today={today} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function OnHandRow({ row, today }: { readonly row: OnHand; readonly today: string }) {
  const marks = supplyMarks(row, today);
  return (
    <tr>
      <th scope="row">
        <a href={`/supplies/${row.id}`}>{row.name}</a>
      </th>
      <td class={row.onHand === 0 ? "number none" : "number"} data-label="On hand">
        {row.onHand === 0 ? "·" : supplyAmountWords(row.kind, row.onHand)}
      </td>
      {row.nextExpiry === null ? (
        <td class="none">·</td>
      ) : (
        <td data-label="Expires next">{dayWords(row.nextExpiry, { year: true })}</td>
      )}
      {marks.length === 0 ? (
        <td />
      ) : (
        <td class="marks">
          {marks.map(({ words, urgent }) => (
            <StateMark key={words} words={words} urgent={urgent} />
          ))}
        </td>
      )}
    </tr>
  );
}

function OnItsWay({ purchases, today }: { readonly purchases: readonly Purchase[]; readonly today: string }) {
  return (
    <section>
      <h2>On its way</h2>
      <ul class="plain-list">
        {purchases.map(({ id, supplyId, name, kind, supplier, amount, dueOn }) => (
          <li key={id} class="row">
            <span>
              <strong>{supplyAmountWords(kind, amount)}</strong> of {name}, from {supplier}
            </span>
            <span>
              {dueOn < today && <StateMark words="overdue" urgent />} due {shortDayWords(dueOn)}{" "}
              <a class="button quiet" href={`/supplies/${supplyId}?purchase=${id}`}>
                Receive
              </a>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function WeighedRuns({
  runs,
  timeZone,
}: {
  readonly runs: readonly WeighedRunRow[];
  readonly timeZone: string;
}) {
  return (
    <section>
      <h2>Weighed out last</h2>
      <ul class="plain-list">
        {runs.map(({ id, look, startedAt, isBeyond }) => (
          <li key={id} class="row">
            <a href={`/supplies/runs/${id}`}>
              <Swatch look={look} />
              {look.name}
            </a>
            <span>
              {isBeyond && <StateMark words="more than the ledger had" urgent />}{" "}
              {startedAt && momentWords(startedAt, timeZone)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
