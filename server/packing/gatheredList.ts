import { alongTheShelf } from "../shelf/shelfPlace.ts";
import { type CodedLot, demandOf, type OpenLine, packingList } from "./packingList.ts";
import { shareShelf } from "./suggestLots.ts";

/** So many pieces of one lot, and for which orders. */
export interface GatheredTake
  extends Pick<CodedLot, "code" | "shelfPlace">,
    Pick<OpenLine, "product" | "look"> {
  readonly lotId: number;
  readonly units: number;
  /** In the order of the promises. */
  readonly for: readonly { readonly orderId: number; readonly reference: string; readonly units: number }[];
}

/** What one gathers in one walk along the shelf, and for which of the orders. */
export interface GatheredList {
  /** Every order for which there is something to take, in the order of the promises. */
  readonly orders: readonly {
    readonly orderId: number;
    readonly reference: string;
    readonly customer: string;
    readonly shipBy: string;
    readonly left: number;
    readonly free: number;
    readonly isChosen: boolean;
  }[];
  /** Along the shelf, then by product. */
  readonly takes: readonly GatheredTake[];
}

/**
 * Adds up what the orders' own lists suggest. An order that is not chosen keeps the lots that are suggested to it.
 *
 * @param lines those of every open order, in the order of the promises
 * @param lots what is on the shelf and on the trays, in the order of use
 * @param chosen which orders; null: those that can be packed whole now
 */
export function gatheredList(
  lines: readonly OpenLine[],
  lots: readonly CodedLot[],
  chosen: readonly number[] | null,
): GatheredList {
  const orders = packingList(lines, lots)
    .filter(({ free }) => free > 0)
    .map(({ orderId, reference, customer, shipBy, left, free }) => ({
      ...{ orderId, reference, customer, shipBy, left, free },
      isChosen: chosen ? chosen.includes(orderId) : free === left,
    }));
  const wanted = new Set(orders.flatMap(({ orderId, isChosen }) => (isChosen ? [orderId] : [])));
  return { orders, takes: takesFor(wanted, lines, lots) };
}

function takesFor(wanted: ReadonlySet<number>, lines: readonly OpenLine[], lots: readonly CodedLot[]) {
  const shares = shareShelf(lines.map(demandOf), lots);
  const parts = lines
    .filter(({ orderId }) => wanted.has(orderId))
    .flatMap((line) => (shares.get(line.lineId)?.takes ?? []).map((take) => ({ ...take, line })));
  return lots
    .flatMap(({ id, code, shelfPlace }): readonly GatheredTake[] => {
      const own = parts.filter((part) => part.lotId === id);
      const [first] = own;
      if (!first) return [];
      const { product, look } = first.line;
      const each = own.map(({ units, line: { orderId, reference } }) => ({ orderId, reference, units }));
      const units = each.reduce((sum, part) => sum + part.units, 0);
      return [{ lotId: id, code, shelfPlace, product, look, units, for: each }];
    })
    .toSorted((one, other) => alongTheShelf(one, other) || one.product.localeCompare(other.product, "en"));
}
