import type { Transaction } from "../../db/connect.ts";
import { sampleProducts } from "../../db/demo/products.ts";
import {
  sampleHourMinor,
  sampleLots,
  samplePackaging,
  samplePackingOf,
  samplePacks,
  sampleSuppliers,
} from "../../db/demo/supplies.ts";
import { dateAway, dateOf } from "../../views/format/dates.ts";
import { changeCosting } from "../costs/changeCosting.ts";
import type { Actor } from "../http/visitor.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { receiveSupply } from "../supplies/receiveSupply.ts";
import { addPackaging, setPackingList } from "../supplies/writePackaging.ts";
import { addPack, addSupplier } from "../supplies/writeSupplier.ts";
import { known, taken } from "./known.ts";

interface Given {
  /** Ids of the ingredients by code. */
  readonly ingredients: ReadonlyMap<string, number>;
  readonly products: ReadonlyMap<string, number>;
  readonly timeZone: string;
}

/** Suppliers and their packs, packaging and packing lists, and what lies on the shelf. */
export async function addSampleSupplies(transaction: Transaction, actor: Actor, given: Given): Promise<void> {
  const supplies = new Map(given.ingredients);
  for (const [code, { name, kind }] of Object.entries(samplePackaging)) {
    const facts = { name, kind, statement: "", counted: true, leastOnHand: 0, coverDays: 28 };
    supplies.set(code, taken(await addPackaging(transaction, actor, facts)).supplyId);
  }
  const suppliers = new Map<string, number>();
  for (const { code, orderWeekdays, ...facts } of sampleSuppliers) {
    const supplier = await addSupplier(transaction, actor, { ...facts, orderWeekdays: [...orderWeekdays] });
    suppliers.set(code, taken(supplier).supplierId);
  }
  const firstPack = new Map<string, { readonly supplierId: number; readonly ofUnitMinor: number }>();
  for (const { of, from, content, unit, priceMinor, leastPacks = 1 } of samplePacks) {
    const supplierId = known(suppliers, from);
    if (!firstPack.has(of)) firstPack.set(of, { supplierId, ofUnitMinor: priceMinor / content });
    const pack = await addPack(transaction, actor, {
      ...{ supplyId: known(supplies, of), supplierId, leastPacks, code: "", usual: false },
      written: { thousandths: content * 1000, unit },
      priceMinor: minorUnits(priceMinor),
    });
    taken(pack);
  }
  taken(
    await changeCosting(transaction, actor, {
      supplyCost: "last-paid",
      hourMinor: minorUnits(sampleHourMinor),
    }),
  );
  const today = dateOf(actor.at, given.timeZone);
  for (const { of, supplierLot, amount, unit, paidPercent, daysAgo, goodForDays } of sampleLots) {
    const pack = firstPack.get(of);
    if (!pack) throw new Error(`The sample has ${of} from nobody`);
    const receipt = await receiveSupply(transaction, actor, {
      ...{ supplyId: known(supplies, of), supplierId: pack.supplierId, supplierLot },
      quantity: { thousandths: Math.round(amount * 1000), unit },
      priceMinor: minorUnits(Math.round((pack.ofUnitMinor * amount * paidPercent) / 100)),
      receivedOn: dateAway(today, -daysAgo),
      expiresOn: goodForDays === null ? null : dateAway(today, goodForDays),
      purchaseId: null,
    });
    taken(receipt);
  }
  for (const product of sampleProducts) {
    const packing = samplePackingOf(product).map(([code, amount, forPieces], place) => ({
      ...{ place, supplyId: known(supplies, code), amount, forPieces },
    }));
    taken(await setPackingList(transaction, actor, { productId: known(given.products, product), packing }));
  }
}
