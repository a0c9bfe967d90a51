import type { Transaction } from "../../db/connect.ts";
import { sampleCustomers } from "../../db/demo/customers.ts";
import { sampleOrders } from "../../db/demo/orders.ts";
import { sampleBlends, sampleProducts, sampleShapes } from "../../db/demo/products.ts";
import { sampleDrying, samplePlaces, sampleStock } from "../../db/demo/stock.ts";
import { sampleSessions, sampleWorkshop } from "../../db/demo/workshop.ts";
import { dateOf } from "../../views/format/dates.ts";
import { ok, type Result } from "../basics/result.ts";
import { addCustomer } from "../customers/addCustomer.ts";
import type { Actor } from "../http/visitor.ts";
import { enterOrder } from "../orders/enterOrder.ts";
import { addBlend } from "../products/addBlend.ts";
import { addProduct } from "../products/addProduct.ts";
import { addStock } from "../shelf/addStock.ts";
import { placeLots } from "../shelf/placeLots.ts";
import { addShape } from "../workshop/addShape.ts";
import { addWeekSession } from "../workshop/addWeekSession.ts";
import { type OpeningRefusal, openWorkshop } from "../workshop/openWorkshop.ts";
import { entriesOf, known, taken } from "./known.ts";
import { addSampleBoxes } from "./sampleBoxes.ts";
import { addSampleCarriers } from "./sampleCarriers.ts";
import { sampleDates } from "./sampleDates.ts";
import { addSampleLabels } from "./sampleLabels.ts";
import { addSampleMarkets } from "./sampleMarkets.ts";
import { addSampleMoney, addSampleOwnPrices } from "./sampleMoney.ts";
import { addSamplePapers } from "./samplePapers.ts";
import { addSamplePastOrders } from "./samplePastOrders.ts";
import { addSampleRecipes } from "./sampleRecipes.ts";
import { addSampleRound } from "./sampleRound.ts";
import { addSampleStandingOrders } from "./sampleStanding.ts";
import { addSampleSupplies } from "./sampleSupplies.ts";
import { sampleCustomerFacts } from "./sampleTerms.ts";

/**
 * Opens the sample workshop through the same commands the forms use, its week dated from `actor.at` on the clock of
 * `timeZone`. Refused when there is a workshop already, or when the database does not know the time zone.
 */
export async function loadSampleWorkshop(
  transaction: Transaction,
  actor: Actor,
  timeZone: string,
): Promise<Result<null, OpeningRefusal>> {
  const opened = await openSample(transaction, actor, timeZone);
  if (!opened.ok) return opened;
  const { products, shapes, blends } = await addRange(transaction, actor);
  const ingredients = await addSampleRecipes(transaction, actor, blends);
  await addSampleLabels(transaction, actor, { products, today: dateOf(actor.at, timeZone) });
  await addSampleCarriers(transaction, actor);
  await addSampleBoxes(transaction, actor, shapes);
  await addShelf(transaction, actor, products);
  await addSampleMoney(transaction, actor, { products, shapes });
  await addSampleSupplies(transaction, actor, { ingredients, products, timeZone });
  const customers = await addCustomers(transaction, actor, shapes);
  await addSampleOwnPrices(transaction, actor, { products, customers });
  await addSampleRound(transaction, actor, customers);
  await addSamplePastOrders(transaction, actor, { products, customers, timeZone });
  const dateOfDay = sampleDates(actor.at, timeZone);
  const orders = new Map<string, number>();
  for (const order of sampleOrders) {
    const entered = await enterOrder(transaction, actor, {
      reference: order.reference,
      customerId: known(customers, order.customer),
      terms: null,
      shipBy: dateOfDay(order.shipBy),
      note: "",
      lines: entriesOf(order.lines).map(([code, units]) => ({ productId: known(products, code), units })),
      confirm: order.state === "confirmed",
    });
    orders.set(order.reference, taken(entered).orderId);
  }
  await addSamplePapers(transaction, actor, orders);
  await addSampleStandingOrders(transaction, actor, { products, customers, dateOfDay });
  await addSampleMarkets(transaction, actor, {
    ...{ products, customers, orders },
    saturday: dateOfDay("market-saturday"),
    fairLeaves: dateOfDay({ workday: 9 }),
  });
  return ok(null);
}

async function openSample(transaction: Transaction, actor: Actor, timeZone: string) {
  const { bowlGrams, minBowlGrams, ...numbers } = sampleWorkshop;
  const opened = await openWorkshop(transaction, actor, {
    ...numbers,
    timeZone,
    bowlMilligrams: bowlGrams * 1000,
    minBowlMilligrams: minBowlGrams * 1000,
  });
  if (!opened.ok) return opened;
  for (const session of sampleSessions) taken(await addWeekSession(transaction, actor, session));
  return opened;
}

/** Shapes, blends and products; returns the ids of all three by code. */
async function addRange(transaction: Transaction, actor: Actor) {
  const shapes = new Map<string, number>();
  for (const { moldHours, restHours, grams, ...shape } of sampleShapes) {
    const { shapeId } = taken(
      await addShape(transaction, actor, {
        ...shape,
        moldMinutes: moldHours * 60,
        restMinutes: restHours * 60,
        pieceMilligrams: grams * 1000,
      }),
    );
    shapes.set(shape.code, shapeId);
  }
  const blends = new Map<string, number>();
  for (const blend of sampleBlends) {
    blends.set(blend.code, taken(await addBlend(transaction, actor, blend)).blendId);
  }
  const products = new Map<string, number>();
  for (const code of sampleProducts) {
    const [blend = "", shape = ""] = code.split("/");
    const cell = { blendId: known(blends, blend), shapeId: known(shapes, shape) };
    products.set(code, taken(await addProduct(transaction, actor, cell)).productId);
  }
  return { products, shapes, blends };
}

/** What is ready, and what was pressed before today. */
async function addShelf(
  transaction: Transaction,
  actor: Actor,
  products: ReadonlyMap<string, number>,
): Promise<void> {
  const places = new Map<string, string>(Object.entries(samplePlaces));
  for (const [code, units] of entriesOf(sampleStock)) {
    const productId = known(products, code);
    const { lotId } = taken(await addStock(transaction, actor, { kind: "ready", productId, units }));
    const shelfPlace = places.get(code) ?? "";
    if (shelfPlace !== "") taken(await placeLots(transaction, actor, { lotIds: [lotId], shelfPlace }));
  }
  const inHours = (hours: number) => new Date(actor.at.getTime() + hours * 3_600_000);
  for (const { product, units, unmoldInHours, readyInHours } of sampleDrying) {
    const drying = {
      kind: "drying",
      productId: known(products, product),
      units,
      unmoldDueAt: unmoldInHours === null ? null : inHours(unmoldInHours),
      readyDueAt: inHours(readyInHours),
    } as const;
    taken(await addStock(transaction, actor, drying));
  }
}

async function addCustomers(
  transaction: Transaction,
  actor: Actor,
  shapes: ReadonlyMap<string, number>,
): Promise<ReadonlyMap<string, number>> {
  const customers = new Map<string, number>();
  for (const customer of sampleCustomers) {
    const facts = sampleCustomerFacts(customer, shapes);
    customers.set(customer.name, taken(await addCustomer(transaction, actor, facts)).customerId);
  }
  return customers;
}
