import { FactList } from "../components/FactList.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, minuteOfDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { wholeWords } from "../format/quantities.ts";
import { hoursWords } from "./marketWords.ts";

interface CrateSheetProps {
  readonly market: {
    readonly id: number;
    readonly customer: string;
    readonly heldOn: string;
    readonly place: string;
    readonly opensMinute: number;
    readonly closesMinute: number;
    readonly loadingMinutes: number;
    readonly note: string;
    readonly reference: string | null;
    readonly orderState: string | null;
    readonly shipBy: string | null;
  };
  readonly currency: string;
  readonly lines: readonly CrateLine[];
}

interface CrateLine {
  readonly productId: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
  /** What a piece costs at the stall; null: nobody said. */
  readonly priceMinor: number | null;
}

/** The crate list on paper: to load by, to lay out the stall by, and to count by when it comes home. */
export function CrateSheetPage({ market, currency, lines }: CrateSheetProps) {
  const { id, customer, heldOn, reference, orderState } = market;
  return (
    <>
      <p class="trail">
        <a href={`/markets/${id}`}>{customer}</a>
      </p>
      <p class="aside not-printed">Print this page: only the list comes out.</p>
      <article class="sheet crate-sheet">
        <h1>
          Crate list <Unbroken words={reference ?? ""} /> for {customer}, {dayWords(heldOn, { year: true })}
        </h1>
        {orderState === "draft" && <p class="notice">A draft: nobody has confirmed it yet.</p>}
        <FactList
          facts={[
            ["Packed by", market.shipBy === null ? "" : dayWords(market.shipBy)],
            ["Load from", minuteOfDayWords(Math.max(0, market.opensMinute - market.loadingMinutes))],
            ["Open", hoursWords(market)],
            ["Place", market.place],
            ["Note", market.note],
          ]}
        />
        <SheetLines lines={lines} currency={currency} />
      </article>
    </>
  );
}

/** Columns that are written into by hand; on a small screen nobody does. */
const BY_HAND = ["In the crate", "Came home", "Given away", "Sold out at"] as const;

function SheetLines({ lines, currency }: Pick<CrateSheetProps, "lines" | "currency">) {
  const priced = lines.some(({ priceMinor }) => priceMinor !== null);
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {[...(priced ? ["Price"] : []), "To take"].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
          {BY_HAND.map((name) => (
            <th key={name} scope="col" class="by-hand">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map(({ productId, product, look, units, priceMinor }) => (
          <tr key={productId}>
            <th scope="row">
              <Swatch look={look} />
              {product}
            </th>
            {priced && (
              <td data-label="Price" class="number">
                {priceMinor === null ? "" : moneyWords(priceMinor, currency)}
              </td>
            )}
            <td data-label="To take" class="number">
              {wholeWords(units)}
            </td>
            <ByHand />
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">In all</th>
          {priced && <td />}
          <td data-label="To take" class="number">
            {wholeWords(lines.reduce((sum, { units }) => sum + units, 0))}
          </td>
          <ByHand />
        </tr>
      </tfoot>
    </table>
  );
}

function ByHand() {
  return (
    <>
      {BY_HAND.map((name) => (
        <td key={name} class="by-hand" />
      ))}
    </>
  );
}
