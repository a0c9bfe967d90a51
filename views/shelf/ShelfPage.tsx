import { groupBy } from "../../server/basics/groupBy.ts";
import type { ShelfLot } from "../../server/shelf/queries.ts";
import { inMoldWords, restingWords } from "../bench/LyingLots.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { StopReasons } from "../holds/StoppedLots.tsx";
import { shelfSentence, unitsOf } from "./shelfWords.ts";

/** Every finished piece there is, by product and lot, and what is on its way from the molds. */
export function ShelfPage({
  lots,
  timeZone,
}: {
  readonly lots: readonly ShelfLot[];
  readonly timeZone: string;
}) {
  const ready = lots.filter((lot) => lot.state === "ready");
  const lying = lots.filter((lot) => lot.state !== "ready");
  return (
    <>
      <h1>{shelfSentence(lots)}</h1>
      <p class="actions">
        <a class="button quiet" href="/shelf/ready-stock">
          Enter finished pieces
        </a>
        <a class="button quiet" href="/shelf/drying-stock">
          Enter what is drying
        </a>
        <a class="button quiet" href="/shelf/places">
          Places on the shelf
        </a>
      </p>
      <div class="sheets">
        {[...groupBy(ready, (lot) => lot.productId).values()].map((its) => (
          <ProductSheet key={its[0]?.productId} lots={its} timeZone={timeZone} />
        ))}
      </div>
      {lying.length > 0 && <LyingLots lots={lying} timeZone={timeZone} />}
    </>
  );
}

function ProductSheet({ lots, timeZone }: { readonly lots: readonly ShelfLot[]; readonly timeZone: string }) {
  const [first] = lots;
  if (!first) return null;
  return (
    <section class="sheet">
      <h2 class="row">
        <span>
          <Swatch look={first.look} />
          {first.product}
        </span>
        {lots.length > 1 && <span class="units">{pieces(unitsOf(lots))}</span>}
      </h2>
      <ul class="plain-list">
        {lots.map((lot) => (
          <li key={lot.id}>
            <span class="row">
              <span>
                <LotLink lot={lot} />
                {lot.shelfPlace !== "" && <> at {lot.shelfPlace}</>}
              </span>
              <strong>{pieces(lot.units)}</strong>
            </span>
            <span class="aside">
              {lot.readyAt && `Ready since ${momentWords(lot.readyAt, timeZone)}`}
              <Unbroken
                words={lot.boxed
                  .map(({ reference, units }) => `; ${pieces(units)} in the box for ${reference}`)
                  .join("")}
              />
            </span>
            <StopReasons lot={{ stops: lot.stops }} timeZone={timeZone} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function LyingLots({ lots, timeZone }: { readonly lots: readonly ShelfLot[]; readonly timeZone: string }) {
  return (
    <section>
      <h2>Drying and resting, not to be packed yet</h2>
      <ul class="plain-list">
        {lots.map((lot) => (
          <li key={lot.id}>
            <span class="row">
              <span>
                <Swatch look={lot.look} />
                <LotLink lot={lot} /> {lot.product}
              </span>
              <strong>{pieces(lot.units)}</strong>
            </span>
            <span class="aside">
              {lot.state === "drying" ? inMoldWords(lot, timeZone) : restingWords(lot, timeZone)}
            </span>
            <StopReasons lot={{ stops: lot.stops }} timeZone={timeZone} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function LotLink({ lot }: { readonly lot: Pick<ShelfLot, "id" | "code"> }) {
  return (
    <a class="lot-code" href={`/shelf/${lot.id}`}>
      {lot.code}
    </a>
  );
}
