import type { BlendLook } from "../../views/components/Swatch.tsx";
import type { OrderState, OrderTerms } from "../orders/order.ts";
import { type Share, type ShelfLot, shareShelf } from "./suggestLots.ts";

/** A line of an order whose box is not closed yet. */
export interface OpenLine {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly terms: OrderTerms;
  /** ISO 8601 date. */
  readonly shipBy: string;
  readonly state: OrderState;
  readonly lineId: number;
  readonly productId: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly ordered: number;
  readonly packed: number;
  readonly shipped: number;
}

export interface CodedLot extends ShelfLot {
  readonly code: string;
  /** Null while it still dries or rests. */
  readonly readyAt: Date | null;
  /** Blank: nobody said where it stands. */
  readonly shelfPlace: string;
}

/** An order on the packing list: what is packed, what could be packed now, and what it waits for. */
export interface OrderToPack
  extends Pick<OpenLine, "orderId" | "reference" | "customer" | "terms" | "shipBy" | "state"> {
  readonly ordered: number;
  readonly packed: number;
  readonly left: number;
  /** Of what is left: on the shelf now, once every earlier promise has its part. */
  readonly free: number;
  readonly waiting: readonly WaitingPieces[];
  /** Not even pressed, or pressed for somebody else. */
  readonly missing: readonly Counted[];
}

interface Counted {
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
}

interface WaitingPieces extends Counted {
  readonly lotCode: string;
  readonly readyDueAt: Date;
}

/** The packing list from its lines, which come in the order of the promises, and the lots in the order of use. */
export function packingList(lines: readonly OpenLine[], lots: readonly CodedLot[]): readonly OrderToPack[] {
  const shares = shareShelf(lines.map(demandOf), lots);
  const codeOf = new Map(lots.map((lot) => [lot.id, lot.code]));
  const byOrder = new Map<number, OpenLine[]>();
  for (const line of lines) {
    const siblings = byOrder.get(line.orderId);
    if (siblings) siblings.push(line);
    else byOrder.set(line.orderId, [line]);
  }
  return [...byOrder.values()].map((own) => rowOf(own, shares, codeOf));
}

export function demandOf({ orderId, lineId, productId, ordered, packed }: OpenLine) {
  return { orderId, lineId, productId, left: ordered - packed };
}

function rowOf(
  lines: readonly OpenLine[],
  shares: ReadonlyMap<number, Share>,
  codeOf: ReadonlyMap<number, string>,
): OrderToPack {
  const [first] = lines;
  if (!first) throw new Error("An order on the packing list has lines");
  const { orderId, reference, customer, terms, shipBy, state } = first;
  const ordered = sumOf(lines, (line) => line.ordered);
  const packed = sumOf(lines, (line) => line.packed);
  const shared = lines.flatMap((line) => {
    const share = shares.get(line.lineId);
    return share ? [{ ...share, product: line.product, look: line.look }] : [];
  });
  return {
    ...{ orderId, reference, customer, terms, shipBy, state, ordered, packed },
    left: ordered - packed,
    free: sumOf(shared, (share) => share.free),
    waiting: shared.flatMap(({ waiting, product, look }) =>
      waiting.map(({ lotId, units, readyDueAt }) => ({
        ...{ product, look, units, readyDueAt },
        lotCode: codeOf.get(lotId) ?? "",
      })),
    ),
    missing: shared.flatMap(({ missing: units, product, look }) =>
      units > 0 ? [{ product, look, units }] : [],
    ),
  };
}

function sumOf<Row>(rows: readonly Row[], amount: (row: Row) => number): number {
  return rows.reduce((sum, row) => sum + amount(row), 0);
}
