import { FormMistake, Mistake } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, freshForm, typedList } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, minuteOfDayWords } from "../format/dates.ts";
import { spelled, wholeWords } from "../format/quantities.ts";

interface CountRowShown {
  readonly productId: number;
  readonly product: string;
  readonly look: BlendLook;
  /** What left in the crate; null: the count says it. */
  readonly takenUnits: number | null;
  readonly count: {
    readonly takenUnits: number;
    readonly homeUnits: number;
    readonly givenAwayUnits: number;
    readonly soldOutMinute: number | null;
  } | null;
}

interface CountPageProps {
  readonly market: {
    readonly id: number;
    readonly customer: string;
    readonly heldOn: string;
    readonly opensMinute: number;
    readonly closesMinute: number;
    readonly counted: boolean;
  };
  readonly state: "called-off" | "not-yet" | "crate-here" | "open";
  /** The crate list, where there is one. */
  readonly waitsFor: { readonly orderId: number; readonly reference: string } | null;
  readonly rows: readonly CountRowShown[];
  readonly seen: string;
  readonly answer: FormAnswer | null;
  readonly trouble: string | null;
  readonly justCounted: boolean;
}

/** What came home from a market, product by product, counted with one hand on a phone. */
export function CountPage(props: CountPageProps) {
  const { market, state, trouble, justCounted } = props;
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
      </p>
      <h1>{headline(props)}</h1>
      {trouble && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {justCounted && (
        <p class="notice" role="status">
          Written down. What came home is back on the shelf
          {props.waitsFor ? ", in the lots it came from: of several, in those that became ready last" : ""}.
        </p>
      )}
      {state === "open" ? (
        justCounted ? (
          <p class="actions">
            <a class="button quiet" href={`/markets/${market.id}/count`}>
              Correct the count
            </a>
          </p>
        ) : (
          <CountForm {...props} />
        )
      ) : (
        <WhyNot {...props} />
      )}
    </>
  );
}

function headline({ market, state, justCounted }: CountPageProps): string {
  const what = `${market.customer} on ${dayWords(market.heldOn)}`;
  if (state === "called-off") return `${what} was called off.`;
  if (state === "not-yet") return `${what} has not been yet.`;
  if (state === "crate-here") return `The crate for ${what} has not left.`;
  if (justCounted) return `${what} is counted.`;
  return `What came home from ${what}?`;
}

function WhyNot({ state, waitsFor }: CountPageProps) {
  if (state === "called-off") return <p>There is nothing to count.</p>;
  if (state === "not-yet") return <p>What came home is counted on its day, or any day after.</p>;
  return (
    <p>
      Pack it and let it leave, so that it is known what was taken:{" "}
      {waitsFor && (
        <a href={`/packing/${waitsFor.orderId}`}>
          <Unbroken words={waitsFor.reference} /> at the packing table
        </a>
      )}
      .
    </p>
  );
}

function CountForm({ market, rows, seen, answer, waitsFor }: CountPageProps) {
  const form = answer ?? freshForm();
  return (
    <Form action={`/markets/${market.id}/count`} class="count-form">
      <p class="aside">
        {waitsFor
          ? "0 where none came home: it was sold out then, and about when tells the most."
          : "Fill in what was taken; leave a product empty that was not. 0 where none came home."}
      </p>
      <FormMistake answer={form} />
      <input type="hidden" name="seen" value={seen} />
      <CountRows rows={rows} answer={answer} />
      <button type="submit">
        {market.counted ? "Write the corrected count down" : "Write the count down"}
      </button>
    </Form>
  );
}

/** Once it was counted, what was not on the stall is folded away below what was. */
function CountRows({ rows, answer }: Pick<CountPageProps, "rows" | "answer">) {
  const wasThere = ({ takenUnits, count }: CountRowShown) => takenUnits !== null || count !== null;
  const some = rows.some(wasThere);
  const placed = [...rows.filter(wasThere), ...rows.filter((row) => !wasThere(row))].map((row, place) => (
    <CountRow key={row.productId} row={row} place={place} answer={answer} />
  ));
  const there = some ? rows.filter(wasThere).length : rows.length;
  const isTyped = answer !== null;
  return (
    <>
      {placed.slice(0, there)}
      {placed.length > there && (
        <Fold
          name="Also on the stall?"
          holds={`${spelled(placed.length - there, "product")} of which nothing was taken`}
          open={isTyped}
        >
          {placed.slice(there)}
        </Fold>
      )}
    </>
  );
}

interface CountRowProps {
  readonly row: CountRowShown;
  readonly place: number;
  readonly answer: FormAnswer | null;
}

function CountRow({ row, place, answer }: CountRowProps) {
  const { product, look, takenUnits, count } = row;
  const known: Readonly<Record<FieldName, string>> = {
    taken: String(takenUnits ?? count?.takenUnits ?? ""),
    home: String(count?.homeUnits ?? ""),
    given_away: String(count?.givenAwayUnits || ""),
    sold_out_at: typeof count?.soldOutMinute === "number" ? minuteOfDayWords(count.soldOutMinute) : "",
  };
  const value = (name: FieldName) => (answer ? typedList(answer, name)[place] : undefined) ?? known[name];
  return (
    <fieldset class="count-row">
      <legend>
        <Swatch look={look} />
        {product}
        {takenUnits !== null && <span class="taken"> {wholeWords(takenUnits)} taken</span>}
      </legend>
      <input type="hidden" name="product" value={row.productId} />
      {takenUnits !== null && <input type="hidden" name="taken" value={takenUnits} />}
      <div class="count-fields">
        {fields
          .filter(({ name }) => name !== "taken" || takenUnits === null)
          .map(({ name, label }) => (
            <CountField
              key={name}
              id={`${name}-${row.productId}`}
              name={name}
              label={label}
              value={value(name)}
              wrong={answer?.mistakes[`rows.${place}.${name}`] !== undefined}
            />
          ))}
      </div>
      {answer &&
        [...fields.map(({ name }) => name), "product"].map((name) => (
          <Mistake key={name} name={`rows.${place}.${name}`} answer={answer} />
        ))}
    </fieldset>
  );
}

const fields = [
  { name: "taken", label: "Taken" },
  { name: "home", label: "Came home" },
  { name: "given_away", label: "Given away" },
  { name: "sold_out_at", label: "Sold out at about" },
] as const;

type FieldName = (typeof fields)[number]["name"];

interface CountFieldProps {
  readonly id: string;
  readonly name: FieldName;
  readonly label: string;
  readonly value: string;
  readonly wrong: boolean;
}

function CountField({ id, name, label, value, wrong }: CountFieldProps) {
  const clock = name === "sold_out_at";
  return (
    <div class={`count-field ${name}`}>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        class="big-number"
        type={(clock ? "time" : "text") as "text"}
        inputMode={clock ? "text" : "numeric"}
        autocomplete="off"
        value={value}
        aria-invalid={wrong ? "true" : undefined}
      />
    </div>
  );
}
