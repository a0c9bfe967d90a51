import { alongTheShelf } from "../shelf/shelfPlace.ts";
import type { BoxContent } from "./box.ts";
import { type CodedLot, demandOf, type OpenLine } from "./packingList.ts";
import { freeFor, type Share, shareShelf } from "./suggestLots.ts";

/** Pieces of an order with an earlier promise. */
interface EarlierPromise {
  readonly orderId: number;
  readonly reference: string;
  readonly shipBy: string;
  readonly units: number;
}

/** One line as the packer needs it: what is in the box, what to take next, and whose pieces to leave. */
interface LineToPack
  extends Pick<OpenLine, "lineId" | "product" | "look" | "ordered" | "packed" | "shipped"> {
  readonly left: number;
  readonly inTheBox: readonly (BoxContent & { readonly units: number })[];
  /** Which lots to take from now, first ready first, leaving the lots of earlier promises to these. */
  readonly suggestion: readonly (CodedLot & { readonly take: number })[];
  /** Every lot of the product that may be packed now, less what is kept for others, first ready first. */
  readonly shelf: readonly CodedLot[];
  readonly waiting: readonly (CodedLot & { readonly take: number; readonly readyDueAt: Date })[];
  readonly missing: number;
  /** Earlier promises that count on pieces now on the shelf, where this line wants more than they leave. */
  readonly countedOn: readonly EarlierPromise[];
  /** Earlier promises that lack pieces this line has in its box. */
  readonly owed: readonly EarlierPromise[];
}

/**
 * The lines of one order along the shelf: by the first place from which something is taken or was taken, so that a line
 * stays where it is while it is packed; then as they were ordered.
 *
 * @param lines those of every open order and of this one, in the order of the promises.
 * @param lots what is on the shelf and on the trays, in the order of use.
 */
export function orderSheet(
  orderId: number,
  lines: readonly OpenLine[],
  lots: readonly CodedLot[],
  box: readonly BoxContent[],
): readonly LineToPack[] {
  const shares = shareShelf(lines.map(demandOf), lots);
  return lines
    .flatMap((line, place) =>
      line.orderId === orderId
        ? [lineToPack(line, { shares, lots, box, earlier: earlierThan(line, lines.slice(0, place)) })]
        : [],
    )
    .toSorted((one, other) => alongTheShelf(firstPlace(one), firstPlace(other)));
}

function firstPlace({ suggestion, inTheBox }: LineToPack): { readonly shelfPlace: string } {
  const [first] = [...suggestion, ...inTheBox].toSorted(alongTheShelf);
  return first ?? { shelfPlace: "" };
}

interface Surroundings {
  readonly shares: ReadonlyMap<number, Share>;
  readonly lots: readonly CodedLot[];
  readonly box: readonly BoxContent[];
  readonly earlier: readonly OpenLine[];
}

function lineToPack(line: OpenLine, { shares, lots, box, earlier }: Surroundings): LineToPack {
  const { lineId, product, look, ordered, packed, shipped } = line;
  const share = shares.get(lineId) ?? { free: 0, takes: [], waiting: [], missing: 0 };
  const ofProduct = lots.filter((lot) => lot.productId === line.productId);
  const shelf = ofProduct
    .filter((lot) => lot.readyDueAt === null)
    .map((lot) => ({ ...lot, units: freeFor(lot, lineId) }))
    .filter((lot) => lot.units > 0);
  const left = ordered - packed;
  return {
    ...{ lineId, product, look, ordered, packed, shipped, left, shelf, missing: share.missing },
    inTheBox: box.flatMap((content) => {
      const units = content.packed - content.shipped;
      return content.orderLineId === lineId && units > 0 ? [{ ...content, units }] : [];
    }),
    suggestion: share.takes.flatMap(({ lotId, units }) =>
      shelf.filter((lot) => lot.id === lotId).map((lot) => ({ ...lot, take: units })),
    ),
    waiting: share.waiting.flatMap(({ lotId, units, readyDueAt }) =>
      ofProduct.filter((lot) => lot.id === lotId).map((lot) => ({ ...lot, take: units, readyDueAt })),
    ),
    countedOn:
      share.free < left
        ? promises(earlier, (other) => shares.get(other.lineId)?.free ?? 0, left - share.free)
        : [],
    owed: promises(earlier, (other) => lacking(shares.get(other.lineId)), packed - shipped),
  };
}

function earlierThan(line: OpenLine, before: readonly OpenLine[]): readonly OpenLine[] {
  return before.filter((other) => other.productId === line.productId && other.orderId !== line.orderId);
}

/** What cannot be packed now although everything earlier has been served. */
function lacking(share: Share | undefined): number {
  if (!share) return 0;
  return share.missing + share.waiting.reduce((sum, { units }) => sum + units, 0);
}

/** The first of them, up to so many pieces in all. */
function promises(
  earlier: readonly OpenLine[],
  unitsOf: (line: OpenLine) => number,
  most: number,
): readonly EarlierPromise[] {
  let open = most;
  return earlier.flatMap((line) => {
    const units = Math.min(open, unitsOf(line));
    open -= units;
    const { orderId, reference, shipBy } = line;
    return units > 0 ? [{ orderId, reference, shipBy, units }] : [];
  });
}
