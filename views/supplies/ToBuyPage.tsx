import type { Purchase } from "../../server/supplies/ledgerQueries.ts";
import type { LineToBuy, ShoppingList, ToBuy } from "../../server/supplies/toBuy.ts";
import { FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, freshForm, typedText } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { listed } from "../format/sentence.ts";
import { supplyAmountWords, writtenWords } from "./supplyWords.ts";
import { orderByWords, purposeWords, toBuySentence } from "./toBuyWords.ts";

interface ToBuyProps {
  readonly toBuy: ToBuy;
  readonly purchases: readonly Purchase[];
  readonly currency: string;
  readonly today: string;
  readonly answer: FormAnswer;
}

/** What to buy by when, a list for each supplier; on paper only the lists come out. */
export function ToBuyPage(props: ToBuyProps) {
  const { toBuy, purchases, today, answer } = props;
  const of = typedText(answer, "of");
  return (
    <>
      <p class="trail">
        <a href="/supplies">Supplies</a>
      </p>
      <h1>{toBuySentence(toBuy, today)}</h1>
      {of === "" && <FormMistake answer={answer} />}
      <p class="aside not-printed">
        For what the followed plan mixes, for what confirmed orders want beyond it, and for packing them; less
        what is there, good on the day, and on its way.
      </p>
      {toBuy.lists.length > 0 && (
        <p class="actions">
          <a class="button quiet" href="/supplies/to-buy.csv">
            As a file for a spreadsheet
          </a>
          <span class="aside">Or print this page.</span>
        </p>
      )}
      <NotKnown toBuy={toBuy} />
      {toBuy.lists.map((list) => (
        <SupplierList
          key={list.supplier?.supplierId ?? 0}
          list={list}
          currency={props.currency}
          today={today}
          answer={of === String(list.supplier?.supplierId) ? answer : freshForm()}
        />
      ))}
      {purchases.length > 0 && <OnItsWay purchases={purchases} today={today} />}
    </>
  );
}

function NotKnown({ toBuy: { withoutRecipe, unknown } }: { readonly toBuy: ToBuy }) {
  if (withoutRecipe.length === 0 && unknown.length === 0) return null;
  return (
    <div class="notice">
      {withoutRecipe.length > 0 && (
        <p>
          Nobody knows what goes into {listed(withoutRecipe)}:{" "}
          <a href="/recipes">write {withoutRecipe.length === 1 ? "its recipe" : "their recipes"}</a>.
        </p>
      )}
      {unknown.length > 0 && (
        <p>
          Nothing was ever entered of {listed(unknown)}, so all that is needed stands on the list. What is
          there already is <a href="/supplies">received like a delivery</a>.
        </p>
      )}
    </div>
  );
}

function SupplierList({
  list,
  currency,
  today,
  answer,
}: {
  readonly list: ShoppingList;
  readonly currency: string;
  readonly today: string;
  readonly answer: FormAnswer;
}) {
  const { supplier, lines } = list;
  const known = lines.flatMap(({ priceMinor }) => (priceMinor === null ? [] : [priceMinor]));
  const total = known.reduce((sum, minor) => sum + minor, 0);
  const table = <ListTable lines={lines} currency={currency} today={today} orderable={supplier !== null} />;
  return (
    <section class="sheet shopping-list">
      <h2>{supplier?.supplier ?? "Nobody is known who sells these"}</h2>
      {supplier !== null && (
        <p class="aside">
          Takes {supplier.deliveryDays === 1 ? "a day" : `${supplier.deliveryDays} days`}.
          {supplier.contact !== "" && ` ${supplier.contact}`}
        </p>
      )}
      {supplier === null ? (
        table
      ) : (
        <Form action={`/supplies/to-buy/${supplier.supplierId}/orders`}>
          <FormMistake answer={answer} />
          <Mistake name="lines" answer={answer} />
          {table}
          <p class="row">
            <strong>
              {known.length > 0 && `${moneyWords(total, currency)} without tax`}
              {known.length < lines.length && known.length > 0 && ", as far as prices are known"}
            </strong>
            <button type="submit">The ticked ones are ordered</button>
          </p>
        </Form>
      )}
    </section>
  );
}

function ListTable({
  lines,
  currency,
  today,
  orderable,
}: {
  readonly lines: readonly LineToBuy[];
  readonly currency: string;
  readonly today: string;
  readonly orderable: boolean;
}) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Supply</th>
          <th scope="col">How much</th>
          <th scope="col">Order by</th>
          <th scope="col">Needed</th>
          <th scope="col" class="number">
            Price
          </th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={`${line.supplyId} ${line.neededOn}`}>
            <th scope="row">
              {orderable && line.pack !== null ? (
                <label class="tick-line">
                  <input type="checkbox" name="lines" value={`${line.pack.packId}x${line.packs}`} checked />
                  <span>{line.name}</span>
                </label>
              ) : (
                <a href={`/setup/supplies/${line.supplyId}/packs`}>{line.name}</a>
              )}
              {line.pack !== null && line.pack.code !== "" && <span class="aside"> {line.pack.code}</span>}
            </th>
            <td data-label="How much">{howMuchWords(line)}</td>
            <td data-label="Order by">
              {orderByWords(line, today)} {line.tooLate && <StateMark words="comes too late" urgent />}
            </td>
            <td data-label="Needed">
              {shortDayWords(line.neededOn)}
              <span class="aside said">{purposeWords(line.for)}</span>
            </td>
            <td data-label="Price" class="number">
              {line.priceMinor === null ? "not known" : moneyWords(line.priceMinor, currency)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function howMuchWords({ pack, packs, amount, kind }: LineToBuy): string {
  if (pack === null) return supplyAmountWords(kind, amount);
  return `${packs} \u00d7 ${writtenWords(pack.thousandths, pack.unit)}`;
}

function OnItsWay({ purchases, today }: { readonly purchases: readonly Purchase[]; readonly today: string }) {
  return (
    <section class="not-printed">
      <h2>On its way</h2>
      <ul class="plain-list">
        {purchases.map(({ id, supplyId, name, kind, supplier, amount, dueOn }) => (
          <li key={id} class="row">
            <span>
              <strong>{supplyAmountWords(kind, amount)}</strong> of {name}, from {supplier}, due{" "}
              {shortDayWords(dueOn)} {dueOn < today && <StateMark words="overdue" urgent />}
            </span>
            <span class="inline">
              <a class="button quiet" href={`/supplies/${supplyId}?purchase=${id}`}>
                Receive
              </a>
              <Form action={`/supplies/purchases/${id}/calling-off`}>
                <button type="submit" class="quiet">
                  It does not come
                </button>
              </Form>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
