import type { LineMoney } from "../../server/prices/priceOrder.ts";
import { CountCell } from "../components/CountCell.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { moneyWords, shareWords } from "../format/money.ts";
import { wholeWords } from "../format/quantities.ts";

export interface ShownLine {
  readonly productId: number;
  readonly id: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
  readonly packed: number;
  readonly shipped: number;
  /** Null where there is no such line any more. */
  readonly money: LineMoney | null;
  /** The pieces in its box, by lot. */
  readonly lots: readonly { readonly lotId: number; readonly code: string; readonly units: number }[];
}

/** What is ordered and how far it is, line by line and in all. */
export function OrderLinesTable({
  lines,
  currency,
  progress = true,
}: {
  readonly lines: readonly ShownLine[];
  readonly currency: string;
  /** False on paper for the customer, who is told what is ordered and not how far it is. */
  readonly progress?: boolean;
}) {
  if (!progress) return <OrderedTable lines={lines} currency={currency} />;
  const priced = lines.some(({ money }) => money?.amounts);
  const sum = (of: (line: ShownLine) => number) => lines.reduce((total, line) => total + of(line), 0);
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {["Ordered", "Packed", "Shipped", "Left to pack"].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
          <th scope="col">Packed from</th>
          {priced &&
            ["Price", "Amount"].map((name) => (
              <th key={name} scope="col" class="number">
                {name}
              </th>
            ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.id}>
            <th scope="row">
              <Swatch look={line.look} />
              {line.product}
            </th>
            <Counts units={line.units} packed={line.packed} shipped={line.shipped} />
            <td data-label={line.lots.length > 0 ? "Packed from" : undefined}>
              <Lots lots={line.lots} />
            </td>
            {priced && <Amounts money={line.money} currency={currency} />}
          </tr>
        ))}
      </tbody>
      {lines.length > 1 && (
        <tfoot>
          <tr>
            <th scope="row">In all</th>
            <Counts
              units={sum((line) => line.units)}
              packed={sum((line) => line.packed)}
              shipped={sum((line) => line.shipped)}
            />
            <td />
            {priced && <td colSpan={2} />}
          </tr>
        </tfoot>
      )}
    </table>
  );
}

function OrderedTable({
  lines,
  currency,
}: {
  readonly lines: readonly ShownLine[];
  readonly currency: string;
}) {
  const priced = lines.some(({ money }) => money?.amounts);
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {["Pieces", ...(priced ? ["Price", "Amount"] : [])].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.id}>
            <th scope="row">{line.product}</th>
            <CountCell label="Pieces" count={line.units} />
            {priced && <Amounts money={line.money} currency={currency} />}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Counts({ units, packed, shipped }: Pick<ShownLine, "units" | "packed" | "shipped">) {
  const counts = { Ordered: units, Packed: packed, Shipped: shipped, "Left to pack": units - packed };
  return (
    <>
      {Object.entries(counts).map(([name, count]) => (
        <CountCell key={name} label={name} count={count} />
      ))}
    </>
  );
}

function Amounts({ money, currency }: { readonly money: LineMoney | null; readonly currency: string }) {
  if (!money?.amounts || money.unitPriceMinor === null) return <td colSpan={2}>no price</td>;
  return (
    <>
      <td data-label="Price" class="money-cell">
        {moneyWords(money.unitPriceMinor, currency)}
        {money.discountBasisPoints > 0 && (
          <span class="aside"> less {shareWords(money.discountBasisPoints)}</span>
        )}
      </td>
      <td data-label="Amount" class="money-cell">
        {moneyWords(money.amounts.amountMinor, currency)}
      </td>
    </>
  );
}

function Lots({ lots }: Pick<ShownLine, "lots">) {
  return (
    <>
      {lots.map(({ lotId, code, units }, place) => (
        <span key={lotId}>
          {place > 0 && ", "}
          {wholeWords(units)} of <a href={`/shelf/${lotId}`}>{code}</a>
        </span>
      ))}
    </>
  );
}
