import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { recordDelivered } from "../../server/delivery/recordDelivered.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import type { OrderTerms } from "../../server/orders/order.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, newPacker, type Packer } from "./workroom.ts";

/*
 * Whatever is packed, unpacked, marked, sent off and ticked off in whatever order: the tables agree with a model that
 * knows the rules from the texts and nothing of the code, after every single step, and refuse exactly what it refuses.
 */

const TERMS: readonly OrderTerms[] = ["complete", "as-ready", "market"];
/** Few, so that a random walk often fills an order and empties a lot. */
const ORDERED = 2;
const MADE = 2;
const LOTS = 2;

interface ModelOrder {
  readonly terms: OrderTerms;
  state: string;
  /** By lot. */
  readonly packed: number[];
  readonly shipped: number[];
  /** Whether each delivery has arrived. */
  readonly arrived: boolean[];
}

interface Model {
  readonly shelf: number[];
  readonly orders: readonly ModelOrder[];
}

interface Workroom {
  readonly orders: readonly { readonly orderId: number; readonly lineId: number }[];
  readonly lots: readonly number[];
  readonly deliveries: number[][];
}

type Step = fc.AsyncCommand<Model, Workroom>;

const database = useDatabase();
let fig: Packer;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
});

describe("any sequence of packing and sending off", () => {
  it("keeps the ledger, the lines and the states as the rules say", { timeout: 120_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(fc.commands(stepKinds(), { maxCommands: 40, size: "max" }), async (steps) => {
        await fc.asyncModelRun(async () => ({ model: newModel(), real: await newWorkroom() }), steps);
      }),
      { numRuns: 20, endOnFailure: true },
    );
  });
});

function stepKinds(): fc.Arbitrary<Step>[] {
  // Part deliveries have the longest way to go, so they are walked most.
  const order = fc.constantFrom(0, 1, 1, 1, 2);
  const lot = fc.nat({ max: LOTS - 1 });
  const units = fc.integer({ min: 1, max: ORDERED + 1 });
  return [
    fc.tuple(order, lot, units).map((given) => packStep(...given)),
    fc.tuple(order, lot, units).map((given) => packStep(...given)),
    fc.tuple(order, lot, units).map((given) => unpackStep(...given)),
    fc.tuple(order, fc.boolean()).map((given) => markStep(...given)),
    order.map((place) => shipStep(place)),
    fc.tuple(order, fc.nat({ max: 2 })).map((given) => arriveStep(...given)),
  ];
}

function packStep(place: number, lot: number, units: number): Step {
  return step(`pack ${units} of lot ${lot} for ${TERMS[place]}`, async (model, real) => {
    const order = at(model.orders, place);
    const may =
      ["confirmed", "packing", "packed"].includes(order.state) &&
      sum(order.packed) + units <= ORDERED &&
      units <= at(model.shelf, lot);
    const input = {
      orderLineId: at(real.orders, place).lineId,
      takes: [{ lotId: at(real.lots, lot), units }],
    };
    expect((await fig.do(packPieces, input)).ok).toBe(may);
    if (!may) return;
    add(order.packed, lot, units);
    add(model.shelf, lot, -units);
    order.state = "packing";
  });
}

function unpackStep(place: number, lot: number, units: number): Step {
  return step(`unpack ${units} of lot ${lot} from ${TERMS[place]}`, async (model, real) => {
    const order = at(model.orders, place);
    const may =
      ["packing", "packed"].includes(order.state) && units <= at(order.packed, lot) - at(order.shipped, lot);
    const input = { orderLineId: at(real.orders, place).lineId, lotId: at(real.lots, lot), units };
    expect((await fig.do(unpackPieces, input)).ok).toBe(may);
    if (!may) return;
    add(order.packed, lot, -units);
    add(model.shelf, lot, units);
    order.state = "packing";
  });
}

function markStep(place: number, leavesShort: boolean): Step {
  return step(`mark ${TERMS[place]}${leavesShort ? " short" : ""}`, async (model, real) => {
    const order = at(model.orders, place);
    const full = sum(order.packed) === ORDERED;
    const short = order.terms === "market" && leavesShort && sum(order.packed) > 0;
    const may = order.state === "packing" && (full || short);
    const input = { orderId: at(real.orders, place).orderId, leavesShort };
    expect((await fig.do(markPacked, input)).ok).toBe(may);
    if (may) order.state = "packed";
  });
}

function shipStep(place: number): Step {
  return step(`ship ${TERMS[place]}`, async (model, real) => {
    const order = at(model.orders, place);
    const stands = sum(order.packed) > sum(order.shipped);
    const may =
      stands && (order.state === "packed" || (order.state === "packing" && order.terms === "as-ready"));
    const input = {
      orderId: at(real.orders, place).orderId,
      how: "parcel",
      parcels: [],
    } as const;
    const shipped = await fig.do(shipOrder, input);
    expect(shipped.ok).toBe(may);
    if (!shipped.ok) return;
    at(real.deliveries, place).push(shipped.value.deliveryId);
    order.arrived.push(false);
    for (const [lot, packed] of order.packed.entries()) order.shipped[lot] = packed;
    if (order.state === "packed" || sum(order.shipped) === ORDERED) order.state = "shipped";
  });
}

function arriveStep(place: number, part: number): Step {
  return step(`delivery ${part} of ${TERMS[place]} arrives`, async (model, real) => {
    const order = at(model.orders, place);
    const may = order.arrived[part] === false;
    const deliveryId = at(real.deliveries, place)[part] ?? 999_999;
    expect((await fig.do(recordDelivered, { deliveryId })).ok).toBe(may);
    if (!may) return;
    order.arrived[part] = true;
    if (order.state === "shipped" && order.arrived.every(Boolean)) order.state = "delivered";
  });
}

function step(words: string, run: (model: Model, real: Workroom) => Promise<void>): Step {
  return {
    check: () => true,
    run: async (model, real) => {
      await run(model, real);
      await compare(model, real);
    },
    toString: () => words,
  };
}

async function compare(model: Model, real: Workroom): Promise<void> {
  const shelf = await database.sql`select lot_id, units from lot_balances order by lot_id`;
  expect([...shelf]).toEqual(real.lots.map((lotId, lot) => ({ lot_id: lotId, units: model.shelf[lot] })));
  const orders = await database.sql`select orders.id, state, packed_units, shipped_units from orders
    join line_progress on line_progress.order_id = orders.id order by orders.id`;
  expect([...orders]).toEqual(
    real.orders.map(({ orderId }, place) => {
      const { state, packed, shipped } = at(model.orders, place);
      return { id: orderId, state, packed_units: sum(packed), shipped_units: sum(shipped) };
    }),
  );
}

function newModel(): Model {
  const none = () => Array.from({ length: LOTS }, () => 0);
  return {
    shelf: none().map(() => MADE),
    orders: TERMS.map((terms) => ({
      ...{ terms, state: "confirmed", packed: none(), shipped: none(), arrived: [] },
    })),
  };
}

/** Two lots of one product, and one order of one line for each kind of terms: more is ordered than there is. */
async function newWorkroom(): Promise<Workroom> {
  await emptyWorkroom(database);
  const productId = await insertProduct(database.db);
  const customerId = await insertCustomer(database.db);
  const lots = [];
  for (const code of ["AAA", "BBB"])
    lots.push(await insertReadyLot(database.db, { productId, units: MADE, code }));
  const orders = [];
  for (const terms of TERMS) {
    const order = { customerId, terms, reference: terms, lines: [{ productId, units: ORDERED }] };
    const { orderId, lineIds } = await insertOrder(database.db, order);
    orders.push({ orderId, lineId: firstOf(lineIds) });
  }
  return { orders, lots, deliveries: TERMS.map(() => []) };
}

function sum(counts: readonly number[]): number {
  return counts.reduce((total, count) => total + count, 0);
}

function add(counts: number[], place: number, units: number): void {
  counts[place] = at(counts, place) + units;
}

function at<Item>(items: readonly Item[], place: number): Item {
  const item = items[place];
  if (item === undefined) throw new Error(`There is nothing at place ${place}`);
  return item;
}
