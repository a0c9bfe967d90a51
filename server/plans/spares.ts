import { goodOf, pressFor } from "../learning/expectedLosses.ts";
import type { Order, OrderLine, PlanCase } from "../planning/case.ts";

/** What is there of a product, while it is given out to order lines one after the other. */
interface Supply {
  readonly lossBasisPoints: number;
  /** On the shelf: nothing of it is lost any more. */
  shelf: number;
  /** Drying: so many are expected to be good, and so many to be lost beside them. */
  readonly good: number;
  readonly lost: number;
  goodGiven: number;
  spareForDrying: number;
  /** Still to be pressed, for all lines so far. */
  toPress: number;
  spareToPress: number;
}

/**
 * The same case with every line asking for as many pieces more as are expected to be lost on the way to it, so that the
 * plan makes enough. A line that the shelf can serve needs none; one served from what is drying needs what of that will be
 * lost; for the rest `pressFor` says how many to press. The lines are served in the order they stand in, and rounding is
 * up once for all lines of a product, so that many small orders do not each press a piece more.
 *
 * What the lines asked for besides their spare pieces stays as it is: done twice it changes nothing.
 */
export function withSpares(planCase: PlanCase): PlanCase {
  const supplies = suppliesOf(planCase);
  return { ...planCase, orders: planCase.orders.map((order) => orderWithSpares(order, supplies)) };
}

/** Pieces of a line that somebody ordered. */
export function orderedUnits({ units, spare = 0 }: OrderLine): number {
  return units - spare;
}

/** All pieces of some lines that somebody ordered. */
export function orderedInAll(lines: readonly OrderLine[]): number {
  return lines.reduce((sum, line) => sum + orderedUnits(line), 0);
}

function orderWithSpares(order: Order, supplies: ReadonlyMap<string, Supply>): Order {
  return {
    ...order,
    lines: order.lines.map((line) => {
      const { product } = line;
      const units = orderedUnits(line);
      const supply = supplies.get(product);
      const spare = supply === undefined ? 0 : spareFor(units, supply);
      return spare === 0 ? { product, units } : { product, units: units + spare, spare };
    }),
  };
}

function spareFor(units: number, supply: Supply): number {
  const fromShelf = Math.min(units, supply.shelf);
  supply.shelf -= fromShelf;
  const fromDrying = Math.min(units - fromShelf, supply.good - supply.goodGiven);
  supply.goodGiven += fromDrying;
  supply.toPress += units - fromShelf - fromDrying;
  const forDrying = lossesBeside(supply);
  const toPress = pressFor(supply.toPress, supply.lossBasisPoints) - supply.toPress;
  const spare = forDrying - supply.spareForDrying + toPress - supply.spareToPress;
  supply.spareForDrying = forDrying;
  supply.spareToPress = toPress;
  return spare;
}

/** What is lost beside the drying pieces given out so far; all of it once there is more to make than dries. */
function lossesBeside({ good, lost, goodGiven, toPress }: Supply): number {
  return toPress > 0 ? lost : Math.ceil((lost * goodGiven) / Math.max(1, good));
}

function suppliesOf({ products, stock, drying }: PlanCase): ReadonlyMap<string, Supply> {
  return new Map(
    products.map(({ id, lossShare = 0 }) => {
      const lying = drying.filter(({ product }) => product === id);
      const lost = lying.reduce((sum, { expectedLosses = 0 }) => sum + expectedLosses, 0);
      return [
        id,
        {
          lossBasisPoints: Math.round(lossShare * 10_000),
          shelf: unitsIn(stock.filter(({ product }) => product === id)),
          ...{ good: unitsIn(lying) - lost, lost, goodGiven: 0 },
          ...{ spareForDrying: 0, toPress: 0, spareToPress: 0 },
        },
      ];
    }),
  );
}

function unitsIn(entries: readonly { readonly units: number }[]): number {
  return entries.reduce((sum, { units }) => sum + units, 0);
}

/**
 * How many pieces of a lot are expected to be lost yet: of all that were pressed its rate says how many will be good in
 * the end; what was lost already is no longer among them.
 */
export function lossesToCome(
  { units, pressed }: { readonly units: number; readonly pressed: number },
  lossBasisPoints: number,
): number {
  return Math.max(0, units - goodOf(pressed, lossBasisPoints));
}
