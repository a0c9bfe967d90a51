import type { Database } from "../../db/connect.ts";
import { groupBy } from "../basics/groupBy.ts";
import { type KeptSupply, readBooks, type UsualPack } from "./books.ts";
import { explode, type Purpose, packingNeeds, plannedMixes, unplannedMixes } from "./demand.ts";
import type { NeedFor } from "./explosion.ts";
import { isPackaging, type SupplyKind } from "./kinds.ts";
import { hereWhenOrdered, netSupply, orderBy } from "./netting.ts";

/** Without a pack to buy, weights are bought by the gram. */
const GRAM = 1000;

/** A purchase to be made. */
export interface LineToBuy {
  readonly supplyId: number;
  readonly name: string;
  readonly kind: SupplyKind;
  readonly packs: number;
  readonly amount: number;
  readonly neededOn: string;
  /** The last day to order on; null where nobody is known who sells it. */
  readonly orderBy: string | null;
  /** What needs it on that day first; null: only what should always be there. */
  readonly for: Purpose | null;
  /** Whether it comes too late even if it is ordered as soon as one can. */
  readonly tooLate: boolean;
  readonly pack: UsualPack | null;
  /** Of all of it; null: not known. */
  readonly priceMinor: number | null;
}

/** What to buy, from one supplier; of supplier null: nobody is known who sells it. */
export interface ShoppingList {
  readonly supplier: Pick<UsualPack, "supplierId" | "supplier" | "contact" | "deliveryDays"> | null;
  /** The first to order first. */
  readonly lines: readonly LineToBuy[];
}

export interface ToBuy {
  readonly lists: readonly ShoppingList[];
  readonly withoutRecipe: readonly string[];
  /** Needed, and nothing of it was ever entered. */
  readonly unknown: readonly string[];
}

/** What has to be bought for the followed plan and for every confirmed order, and by when. */
export async function readToBuy(db: Database, today: string): Promise<ToBuy> {
  const mixes = [...(await plannedMixes(db)), ...(await unplannedMixes(db, today))];
  const { needs: forBowls, withoutRecipe } = await explode(db, mixes);
  const needs = groupBy(
    [...forBowls, ...(await packingNeeds(db, today))].toSorted((one, other) =>
      one.on < other.on ? -1 : one.on > other.on ? 1 : 0,
    ),
    ({ supplyId }) => supplyId,
  );
  const kept = await readBooks(db, today);
  const lines = kept.flatMap((supply) => linesOf(supply, needs.get(supply.id) ?? [], today));
  return {
    lists: bySupplier(lines),
    withoutRecipe,
    unknown: kept.filter(({ id, isKnown }) => !isKnown && needs.has(id)).map(({ name }) => name),
  };
}

function linesOf(
  supply: KeptSupply,
  needs: readonly NeedFor<Purpose>[],
  today: string,
): readonly LineToBuy[] {
  const { id: supplyId, name, kind, books, pack, coverDays, leastOnHand } = supply;
  const packAmount = pack?.amount ?? (isPackaging(kind) ? 1 : GRAM);
  const rule = { packAmount, leastPacks: pack?.leastPacks ?? 1, coverDays, leastOnHand };
  const { purchases } = netSupply(needs, books, rule, today);
  return purchases.map(({ neededOn, packs, amount }) => ({
    ...{ supplyId, name, kind, packs, amount, neededOn, pack },
    orderBy: pack && orderBy(neededOn, pack.deliveryDays, pack.orderWeekdays),
    for: needs.find(({ on }) => (on < today ? today : on) === neededOn)?.what ?? null,
    tooLate: pack !== null && hereWhenOrdered(today, pack.deliveryDays, pack.orderWeekdays) > neededOn,
    priceMinor: pack?.priceMinor == null ? null : pack.priceMinor * packs,
  }));
}

function bySupplier(lines: readonly LineToBuy[]): readonly ShoppingList[] {
  const lists = [...groupBy(lines, ({ pack }) => pack?.supplierId ?? null).values()].map((its) => ({
    supplier: its[0]?.pack ?? null,
    lines: its.toSorted((one, other) =>
      compare(one.orderBy ?? one.neededOn, other.orderBy ?? other.neededOn),
    ),
  }));
  return lists.toSorted((one, other) => compare(firstDay(one), firstDay(other)));
}

/** Nobody to order from comes last. */
function firstDay({ supplier, lines }: ShoppingList): string {
  return supplier === null ? "9999" : (lines[0]?.orderBy ?? "9999");
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
