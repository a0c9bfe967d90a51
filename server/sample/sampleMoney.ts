import type { Transaction } from "../../db/connect.ts";
import {
  sampleCases,
  sampleCurrency,
  sampleMakingCosts,
  sampleOwnPrices,
  samplePriceLists,
  sampleTaxGroups,
  sampleValidFrom,
} from "../../db/demo/prices.ts";
import type { Actor } from "../http/visitor.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { changeMoney } from "../prices/changeMoney.ts";
import { addPriceList } from "../prices/changePriceLists.ts";
import { addTaxGroup } from "../prices/changeTaxes.ts";
import type { SetPrice } from "../prices/forms.ts";
import { setUsualCases } from "../prices/setUsualCases.ts";
import { setListPrices, setMakingCosts, setOwnPrices } from "../prices/writePrices.ts";
import { entriesOf, known, taken } from "./known.ts";

interface Range {
  readonly products: ReadonlyMap<string, number>;
  readonly shapes: ReadonlyMap<string, number>;
}

const dated = { currency: sampleCurrency, validFrom: sampleValidFrom };

/** Currency, tax, price lists, making costs and cases: before the customers, whose terms speak of them. */
export async function addSampleMoney(
  transaction: Transaction,
  actor: Actor,
  { products, shapes }: Range,
): Promise<void> {
  let usualTaxGroupId: number | null = null;
  for (const { name, ratePpm, usual } of sampleTaxGroups) {
    const group = taken(await addTaxGroup(transaction, actor, { name, ratePpm, validFrom: sampleValidFrom }));
    if (usual) usualTaxGroupId = group.taxGroupId;
  }
  const settings = {
    currency: sampleCurrency,
    rounding: "line",
    usualTaxGroupId,
    makingCostBasisPoints: 4000,
    leftoverLossBasisPoints: 5000,
  } as const;
  taken(await changeMoney(transaction, actor, settings));
  for (const { prices, ...list } of samplePriceLists) {
    const added = await addPriceList(transaction, actor, {
      ...list,
      usual: true,
      copy: null,
      validFrom: sampleValidFrom,
    });
    const { priceListId } = taken(added);
    const byProduct = pricesByShape(products, prices);
    taken(await setListPrices(transaction, actor, { ...dated, priceListId, prices: byProduct }));
  }
  const costs = pricesByShape(products, sampleMakingCosts);
  taken(await setMakingCosts(transaction, actor, { currency: sampleCurrency, prices: costs }));
  const cases = entriesOf(sampleCases).map(([code, units]) => ({ shapeId: known(shapes, code), units }));
  taken(await setUsualCases(transaction, actor, cases));
}

/** What single shops pay. */
export async function addSampleOwnPrices(
  transaction: Transaction,
  actor: Actor,
  { products, customers }: Pick<Range, "products"> & { readonly customers: ReadonlyMap<string, number> },
): Promise<void> {
  for (const { customer, prices } of sampleOwnPrices) {
    const own = entriesOf(prices).map(([code, price]) => ({
      productId: known(products, code),
      unitPriceMinor: minorUnits(price),
    }));
    const customerId = known(customers, customer);
    taken(await setOwnPrices(transaction, actor, { ...dated, customerId, prices: own }));
  }
}

/** Every product at the price of its shape. */
function pricesByShape(
  products: ReadonlyMap<string, number>,
  prices: Readonly<Record<string, number>>,
): readonly SetPrice[] {
  const byShape = new Map(entriesOf(prices));
  return [...products].map(([code, productId]) => ({
    productId,
    unitPriceMinor: minorUnits(known(byShape, code.split("/")[1] ?? "")),
  }));
}
