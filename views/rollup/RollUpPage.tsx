import type { StoppedShelfLot } from "../../server/holds/queries.ts";
import type { ProductFacts } from "../../server/rollup/queries.ts";
import type { BlendRollUp, LeftOver, RollUp } from "../../server/rollup/rollUp.ts";
import { pieces } from "../format/quantities.ts";
import { StoppedLots } from "../holds/StoppedLots.tsx";
import { BlendSheet } from "./BlendSheet.tsx";
import { equation, mixWords } from "./rollUpWords.ts";
import { ShapeTable } from "./ShapeTable.tsx";

/** What all orders together ask for, and what of it is still to make. */
export function RollUpPage({
  rollUp,
  products,
  stopped,
  timeZone,
}: {
  readonly rollUp: RollUp;
  readonly products: readonly ProductFacts[];
  readonly stopped: readonly StoppedShelfLot[];
  readonly timeZone: string;
}) {
  return (
    <>
      <h1>{answerOf(rollUp)}</h1>
      {rollUp.totals.toMake > 0 && <p>{planWords(rollUp)}</p>}
      {rollUp.shapes.length > 0 && <ShapeTable shapes={rollUp.shapes} products={products} />}
      {rollUp.blends.map((blend) => (
        <BlendSheet key={blend.blendId} blend={blend} products={ofBlend(products, blend)} />
      ))}
      <StoppedLots lots={stopped} timeZone={timeZone} />
      <p class="aside roll-up-note">
        Counted are confirmed orders, less what is packed for them; drafts wait until they are confirmed. The
        earliest ship-by dates are served first, from the shelf, then from what dries or rests. Whether it
        dries in time is told by the <a href="/plan">plan</a>.
      </p>
    </>
  );
}

function ofBlend(products: readonly ProductFacts[], { blendId }: BlendRollUp) {
  return products.filter((product) => product.blendId === blendId);
}

function answerOf({ totals, left }: RollUp): string {
  if (totals.onOrder > 0) return `${equation(totals)}.`;
  const spare = leftUnits(left);
  return spare > 0
    ? `Nothing on order is left to pack; ${pieces(spare)} are there or planned for orders to come.`
    : "Nothing on order is left to pack.";
}

function planWords({ totals, milligrams, bowls }: RollUp): string {
  const mix = `Making them takes ${mixWords(milligrams, bowls)}.`;
  if (totals.unplanned === 0) return `${mix} The plan makes all of them.`;
  if (totals.planned === 0) return `${mix} None of them is in a plan yet.`;
  return `${mix} The plan makes ${totals.planned} of them; ${totals.unplanned} are in no plan yet.`;
}

function leftUnits(left: LeftOver): number {
  return left.shelf + left.drying + left.planned;
}
