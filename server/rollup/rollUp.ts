import { groupBy } from "../basics/groupBy.ts";

/*
 * What the orders add up to: pieces and mix still to make. Quantities only: whether what dries or is planned comes in
 * time is the plan's question. The pieces of one product serve the earliest ship-by dates first: the shelf first,
 * then what is drying, then what is planned.
 */

/** A blend in a shape, with what one piece takes of the mix. */
export interface RolledProduct {
  readonly productId: number;
  readonly blendId: number;
  readonly shapeId: number;
  readonly pieceMilligrams: number;
}

/** Pieces of one product still to be packed by one date. */
export interface Demand {
  readonly productId: number;
  /** ISO 8601 date. */
  readonly shipBy: string;
  readonly units: number;
}

/** Pieces of one product that nobody has packed yet. */
export interface Supply {
  readonly productId: number;
  readonly shelf: number;
  /** Lying on trays, in the mold or out of it. */
  readonly drying: number;
  /** What the followed plan is going to press, or has in the bowl. */
  readonly planned: number;
}

/** Pieces. Always `onOrder = fromShelf + fromDrying + toMake`, and `toMake = planned + unplanned`. */
export interface Sums {
  readonly onOrder: number;
  readonly fromShelf: number;
  readonly fromDrying: number;
  readonly toMake: number;
  /** Of what is to make: what the followed plan makes. */
  readonly planned: number;
  /** Of what is to make: what no plan makes yet. */
  readonly unplanned: number;
}

/** Pieces that no order takes. */
export interface LeftOver {
  readonly shelf: number;
  readonly drying: number;
  readonly planned: number;
}

interface DateRow extends Sums {
  readonly productId: number;
  readonly shapeId: number;
  readonly shipBy: string;
}

interface Summary {
  readonly totals: Sums;
  readonly left: LeftOver;
  /** Mix for the pieces to make. */
  readonly milligrams: number;
}

export interface BlendRollUp extends Summary {
  readonly blendId: number;
  /** By shape, then by date; only dates with something on order. */
  readonly rows: readonly DateRow[];
  /** Fewest bowls the mix to make fits into. */
  readonly bowls: number;
}

export interface ShapeRollUp extends Summary {
  readonly shapeId: number;
}

export interface RollUp extends Summary {
  /** In the order of the products given. */
  readonly blends: readonly BlendRollUp[];
  readonly shapes: readonly ShapeRollUp[];
  /** The sum of the blends' bowls: a bowl holds one blend. */
  readonly bowls: number;
}

/**
 * @param products every product that a demand or a supply names, each once, in the order to be shown.
 * @param supplies at most one a product.
 * @param bowlMilligrams most mix one bowl takes.
 */
export function rollUp(
  products: readonly RolledProduct[],
  demands: readonly Demand[],
  supplies: readonly Supply[],
  bowlMilligrams: number,
): RollUp {
  const rolled = products.map((product) => rollUpProduct(product, demands, supplies));
  const blends = [...groupBy(rolled, ({ product }) => product.blendId)].map(([blendId, its]) => {
    const summary = summarise(its);
    const rows = its.flatMap(({ rows }) => rows);
    return { blendId, rows, ...summary, bowls: Math.ceil(summary.milligrams / bowlMilligrams) };
  });
  const shapes = [...groupBy(rolled, ({ product }) => product.shapeId)].map(([shapeId, its]) => ({
    shapeId,
    ...summarise(its),
  }));
  return { blends, shapes, ...summarise(rolled), bowls: blends.reduce((sum, { bowls }) => sum + bowls, 0) };
}

interface RolledUpProduct {
  readonly product: RolledProduct;
  readonly rows: readonly DateRow[];
  readonly left: LeftOver;
}

/** Each date takes what the dates before it have left of the shelf, then of the trays, then of the plan. */
function rollUpProduct(
  product: RolledProduct,
  demands: readonly Demand[],
  supplies: readonly Supply[],
): RolledUpProduct {
  const { productId, shapeId } = product;
  const supply = supplies.find((known) => known.productId === productId);
  let left: LeftOver = supply ?? { shelf: 0, drying: 0, planned: 0 };
  const rows = demandByDate(productId, demands).map(([shipBy, onOrder]) => {
    const fromShelf = Math.min(onOrder, left.shelf);
    const fromDrying = Math.min(onOrder - fromShelf, left.drying);
    const toMake = onOrder - fromShelf - fromDrying;
    const planned = Math.min(toMake, left.planned);
    left = {
      shelf: left.shelf - fromShelf,
      drying: left.drying - fromDrying,
      planned: left.planned - planned,
    };
    const unplanned = toMake - planned;
    return { productId, shapeId, shipBy, onOrder, fromShelf, fromDrying, toMake, planned, unplanned };
  });
  return { product, rows, left };
}

function demandByDate(productId: number, demands: readonly Demand[]): readonly [string, number][] {
  const units = new Map<string, number>();
  for (const demand of demands) {
    if (demand.productId !== productId) continue;
    units.set(demand.shipBy, (units.get(demand.shipBy) ?? 0) + demand.units);
  }
  return [...units].sort(([one], [other]) => (one < other ? -1 : 1));
}

function summarise(rolled: readonly RolledUpProduct[]): Summary {
  const rows = rolled.flatMap((one) => one.rows);
  const sum = (part: keyof Sums) => rows.reduce((total, row) => total + row[part], 0);
  const remain = (part: keyof LeftOver) => rolled.reduce((total, { left }) => total + left[part], 0);
  return {
    totals: {
      onOrder: sum("onOrder"),
      fromShelf: sum("fromShelf"),
      fromDrying: sum("fromDrying"),
      toMake: sum("toMake"),
      planned: sum("planned"),
      unplanned: sum("unplanned"),
    },
    left: { shelf: remain("shelf"), drying: remain("drying"), planned: remain("planned") },
    milligrams: rolled.reduce((total, { product, rows: its }) => {
      return total + product.pieceMilligrams * its.reduce((units, row) => units + row.toMake, 0);
    }, 0),
  };
}
