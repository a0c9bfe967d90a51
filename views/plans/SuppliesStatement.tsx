import type { PlanSupplies, SupplyShortage } from "../../server/supplies/planShortages.ts";
import { dayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { supplyAmountWords } from "../supplies/supplyWords.ts";

/** Shortages in sight at once; the others are one touch away. */
const MOST_SHOWN = 3;

/** What a plan runs out of, which run and when. It holds nobody up: what is missing can still be bought. */
export function SuppliesStatement({ supplies }: { readonly supplies: PlanSupplies }) {
  const { isKept, shortages, unknown, withoutRecipe } = supplies;
  if (!isKept)
    return (
      <p class="aside">
        Whether supplies last nobody knows: <a href="/supplies">nothing has been entered</a> yet.
      </p>
    );
  const notKnown = [
    unknown.length > 0 ? `nothing was ever entered of ${listed(unknown)}` : "",
    withoutRecipe.length > 0
      ? `${listed(withoutRecipe)} ${withoutRecipe.length === 1 ? "has" : "have"} no recipe`
      : "",
  ].filter((part) => part !== "");
  return (
    <>
      {shortages.length === 0 ? (
        <p>Supplies last for all of it, with what is on its way.</p>
      ) : (
        <div class="notice supplies-statement">
          <p>
            <strong>{shortagesSentence(shortages)}</strong>
          </p>
          <ShortageList shortages={shortages.slice(0, MOST_SHOWN)} />
          {shortages.length > MOST_SHOWN && (
            <details>
              <summary>{counted(shortages.length - MOST_SHOWN, "more supply", "more supplies")}</summary>
              <ShortageList shortages={shortages.slice(MOST_SHOWN)} />
            </details>
          )}
          <p>
            <a href="/supplies/to-buy">What to buy, and by when</a>
          </p>
        </div>
      )}
      {notKnown.length > 0 && <p class="aside">Not counted in: {notKnown.join("; ")}.</p>}
    </>
  );
}

function ShortageList({ shortages }: { readonly shortages: readonly SupplyShortage[] }) {
  return (
    <ul>
      {shortages.map((shortage) => (
        <li key={shortage.supplyId}>{shortageWords(shortage)}</li>
      ))}
    </ul>
  );
}

/** "It runs out of citric acid on Wednesday 5 March, and of 2 more supplies later." */
export function shortagesSentence(shortages: readonly SupplyShortage[]): string {
  const [first] = shortages;
  if (!first) return "";
  const others = shortages.length - 1;
  const more = others === 0 ? "" : `, and of ${others === 1 ? "one more supply" : `${others} more supplies`}`;
  return `It runs out of ${first.name} on ${dayWords(first.on)}${more}.`;
}

/** "Citric acid, 1.2 kg short: first at Cedar on Wednesday 5 March". */
export function shortageWords({ name, kind, missing, on, what }: SupplyShortage): string {
  const first = what.kind === "packing" ? `packing ${what.order}` : `the run of ${what.blend}`;
  return `${name}, ${supplyAmountWords(kind, missing)} short: first for ${first} on ${dayWords(on)}.`;
}
