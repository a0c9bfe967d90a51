import type { FormAnswer } from "../components/formAnswer.ts";
import { typedText } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { moneyWords, shareWords } from "../format/money.ts";
import { wholeWords } from "../format/quantities.ts";
import { type LookedOver, type Warning, warningWords } from "./lookedOver.ts";
import { MoneySums } from "./OrderMoney.tsx";
import type { ProductChoice } from "./orderForm.ts";

interface LookedOverProps {
  readonly over: LookedOver;
  readonly products: readonly ProductChoice[];
  readonly answer: FormAnswer;
}

/** What a form comes to so far, under its lines; renewed while it is typed. */
export function LookedOverPart({ over, products, answer }: LookedOverProps) {
  const nameOf = (productId: number) => products.find(({ id }) => id === productId)?.name ?? "";
  return (
    <>
      {over.reckoned !== null && <p>It leaves by {dayWords(over.reckoned)} to be there in time.</p>}
      <Warnings over={over} nameOf={nameOf} answer={answer} />
      {over.money && <TypedMoney money={over.money} nameOf={nameOf} />}
    </>
  );
}

function Warnings({
  over: { warnings, mark },
  nameOf,
  answer,
}: Pick<LookedOverProps, "over" | "answer"> & { readonly nameOf: (productId: number) => string }) {
  return (
    <div role="status">
      {warnings.length > 0 && (
        <div class="notice">
          <ul class="plain-list">
            {warnings.map((warning) => (
              <li key={warning.kind === "cases" ? `cases-${warning.place}` : warning.kind}>
                {warning.kind === "cases" && <strong>{nameOf(warning.productId)}: </strong>}
                {warningWords(warning)}
                {warning.kind === "cases" && <Offers warning={warning} product={nameOf(warning.productId)} />}
              </li>
            ))}
          </ul>
          <label class="overrule">
            <input
              type="checkbox"
              id="overruled"
              name="overruled"
              value={mark}
              checked={typedText(answer, "overruled") === mark}
            />
            <span>Meant so: take it all the same</span>
          </label>
        </div>
      )}
    </div>
  );
}

/** Takes a right number into its line; the server brings the form back, so that it works without JavaScript. */
function Offers({
  warning: { place, offers },
  product,
}: {
  readonly warning: Extract<Warning, { kind: "cases" }>;
  readonly product: string;
}) {
  return (
    <span class="offers">
      {offers.map((units) => (
        <button
          key={units}
          type="submit"
          class="quiet"
          formnovalidate
          name="save"
          value={`pieces.${place}.${units}`}
          aria-label={`Take ${units} of ${product}`}
        >
          Take {wholeWords(units)}
        </button>
      ))}
    </span>
  );
}

const sources = { agreed: "agreed", own: "own price", list: "", none: "" } as const;

function TypedMoney({
  money,
  nameOf,
}: {
  readonly money: NonNullable<LookedOver["money"]>;
  readonly nameOf: (productId: number) => string;
}) {
  const { currency } = money;
  return (
    <section class="money" aria-label="What it comes to">
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Product</th>
            <th scope="col" class="number">
              Pieces
            </th>
            <th scope="col" class="number">
              Price
            </th>
            <th scope="col" class="number">
              Amount
            </th>
          </tr>
        </thead>
        <tbody>
          {money.lines.map((line) => (
            <tr key={line.place}>
              <th scope="row">{nameOf(line.productId)}</th>
              <td data-label="Pieces" class="number">
                {wholeWords(line.units)}
              </td>
              <td data-label="Price" class="number">
                {line.unitPriceMinor === null ? "no price" : moneyWords(line.unitPriceMinor, currency)}
                <span class="aside"> {!money.fixed && sources[line.from]}</span>
                {line.discountBasisPoints > 0 && (
                  <span class="aside"> less {shareWords(line.discountBasisPoints)}</span>
                )}
              </td>
              <td data-label="Amount" class="number">
                {line.amounts ? moneyWords(line.amounts.amountMinor, currency) : "·"}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <MoneySums money={money} />
    </section>
  );
}
