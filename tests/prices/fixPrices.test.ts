import { eq } from "drizzle-orm";
import { beforeEach, describe, expect, it } from "vitest";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { inTransaction } from "../../db/transaction.ts";
import type { Actor } from "../../server/http/visitor.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { changeOrder } from "../../server/orders/changeOrder.ts";
import { confirmOrder } from "../../server/orders/confirmOrder.ts";
import { fingerprintOf } from "../../server/orders/content.ts";
import { enterOrder } from "../../server/orders/enterOrder.ts";
import { fixPrices } from "../../server/prices/fixPrices.ts";
import { readOrderMoney } from "../../server/prices/orderMoney.ts";
import { quote, quoteAll } from "../../server/prices/quote.ts";
import { insertListPrice, insertOwnPrice, insertPriceList, insertTaxGroup } from "../build/priceRows.ts";
import {
  insertBlend,
  insertCustomer,
  insertPerson,
  insertProduct,
  insertShape,
  insertWorkshop,
} from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";

const database = useDatabase();
const TODAY = "2027-03-01";
const NOON = new Date(`${TODAY}T12:00:00Z`);

/** What stands in every test: a shop, two products, a list without tax, and 20 % tax that rises to 25 % on 10 March. */
let shop: {
  readonly otter: number;
  readonly cedar: number;
  readonly oat: number;
  readonly list: number;
  readonly actor: Actor;
};

beforeEach(async () => {
  const { db, sql } = database;
  await sql`truncate workshop, people, customers, blends, shapes, price_lists, tax_groups restart identity cascade`;
  await insertWorkshop(db);
  const shapeId = await insertShape(db);
  const product = async (blend: string) =>
    insertProduct(db, { code: `${blend}/ball-60`, shapeId, blendId: await insertBlend(db, { code: blend }) });
  const [cedar, oat] = [await product("cedar-amber"), await product("oat")];
  await insertTaxGroup(db, {
    name: "At home",
    rates: { "2020-01-01": 200_000, "2027-03-10": 250_000 },
    usual: true,
  });
  shop = {
    cedar,
    oat,
    list: await insertPriceList(db, {
      prices: [
        [cedar, 300],
        [oat, 250],
      ],
    }),
    otter: await insertCustomer(db, {
      name: "The Lamplit Otter",
      orderDiscountBasisPoints: 1000,
      shippingMinor: 500,
    }),
    actor: { personId: await insertPerson(db, { name: "Wren Oddfellow", role: "owner" }), at: NOON },
  };
});

type Line = readonly [productId: number, units: number];

async function enter(lines: readonly Line[], given: { shipBy?: string; confirm?: boolean } = {}) {
  const { shipBy = "2027-03-05", confirm = true } = given;
  const entered = await inTransaction(database.db, (transaction) =>
    enterOrder(transaction, shop.actor, {
      reference: null,
      customerId: shop.otter,
      terms: null,
      shipBy,
      note: "",
      lines: lines.map(([productId, units]) => ({ productId, units })),
      confirm,
    } as Parameters<typeof enterOrder>[2]),
  );
  if (!entered.ok) throw new Error(JSON.stringify(entered.refusal));
  return entered.value.orderId;
}

const moneyOf = async (orderId: number, today = TODAY) => {
  const money = await readOrderMoney(database.db, orderId, today);
  if (!money) throw new Error("There is no such order");
  return money;
};

const later = {
  get actor() {
    return { ...shop.actor, at: new Date("2027-03-04T12:00:00Z") };
  },
};

describe("confirming an order", () => {
  it("fixes prices, tax and terms as they are on the day; worked by hand", async () => {
    const orderId = await enter([
      [shop.cedar, 12],
      [shop.oat, 6],
    ]);
    const money = await moneyOf(orderId);
    // 12 x 3.00 + 6 x 2.50 = 51.00, less 10 % 45.90, sending 5.00: 50.90 and 20 % tax: 7.20 x 0.9 ...
    expect(money).toMatchObject({ fixed: true, unpriced: 0, currency: "EUR", pricesIncludeTax: false });
    expect(money.totals).toMatchObject({ goodsMinor: 5100, discountMinor: 510, netMinor: 5090 });
    // Tax by line: 32.40 gives 6.48, 13.50 gives 2.70, 5.00 gives 1.00.
    expect(money.totals).toMatchObject({ taxMinor: 1018, grossMinor: 6108 });
  });

  it("keeps them whatever the lists, the tax and the rounding become", async () => {
    const { db } = database;
    const orderId = await enter([
      [shop.cedar, 12],
      [shop.oat, 6],
    ]);
    const before = await moneyOf(orderId);
    await insertListPrice(db, {
      priceListId: shop.list,
      productId: shop.cedar,
      validFrom: TODAY,
      unitPriceMinor: 999,
    });
    await insertOwnPrice(db, { customerId: shop.otter, productId: shop.oat, unitPriceMinor: 1 });
    await database.sql`update tax_rates set rate_ppm = 10000`;
    await database.sql`update workshop set rounding = 'order'`;
    await database.sql`update customers set order_discount_basis_points = 0, shipping_minor = 0`;
    expect(await moneyOf(orderId, "2027-06-01")).toEqual(before);
  });

  it("takes the customer's own price before the list's, and an agreed one before both", async () => {
    const { db } = database;
    await insertOwnPrice(db, { customerId: shop.otter, productId: shop.cedar, unitPriceMinor: 270 });
    await insertOwnPrice(db, { customerId: shop.otter, productId: shop.oat, unitPriceMinor: 240 });
    const orderId = await enter(
      [
        [shop.cedar, 1],
        [shop.oat, 1],
      ],
      { confirm: false },
    );
    expect((await moneyOf(orderId)).lines.map(({ unitPriceMinor, from }) => [unitPriceMinor, from])).toEqual([
      [270, "own"],
      [240, "own"],
    ]);
    await db.update(orderLines).set({ unitPriceMinor: 199 }).where(eq(orderLines.productId, shop.oat));
    await inTransaction(db, (transaction) => confirmOrder(transaction, shop.actor, { orderId }));
    expect((await moneyOf(orderId)).lines.map(({ unitPriceMinor }) => unitPriceMinor)).toEqual([270, 199]);
  });

  it("prices by the day of confirmation and taxes by the day of shipping", async () => {
    const { db } = database;
    const dearer = { priceListId: shop.list, productId: shop.cedar, unitPriceMinor: 350 };
    await insertListPrice(db, { ...dearer, validFrom: "2027-03-04" });
    const draft = await enter([[shop.cedar, 1]], { confirm: false, shipBy: "2027-03-10" });
    expect((await moneyOf(draft)).lines[0]).toMatchObject({ unitPriceMinor: 300, taxPpm: 250_000 });
    expect((await moneyOf(draft, "2027-03-03")).lines[0]?.unitPriceMinor).toBe(300);
    expect((await moneyOf(draft, "2027-03-04")).lines[0]?.unitPriceMinor).toBe(350);
    await inTransaction(db, (transaction) => confirmOrder(transaction, later.actor, { orderId: draft }));
    expect((await moneyOf(draft)).lines[0]).toMatchObject({ unitPriceMinor: 350, taxPpm: 250_000 });
    const before = await enter([[shop.cedar, 1]], { shipBy: "2027-03-09" });
    expect((await moneyOf(before)).lines[0]).toMatchObject({ unitPriceMinor: 300, taxPpm: 200_000 });
  });

  it("counts a product without a price, and leaves an order without any to be priced later", async () => {
    const { db } = database;
    await insertListPrice(db, {
      priceListId: shop.list,
      productId: shop.oat,
      validFrom: "2027-02-01",
      unitPriceMinor: null,
    });
    const partly = await moneyOf(
      await enter([
        [shop.cedar, 1],
        [shop.oat, 6],
      ]),
    );
    expect([partly.fixed, partly.unpriced, partly.totals.goodsMinor]).toEqual([true, 1, 300]);
    expect(partly.lines.map(({ amounts }) => amounts?.amountMinor ?? null)).toEqual([300, null]);
    const bare = await enter([[shop.oat, 6]]);
    expect([(await moneyOf(bare)).fixed, (await moneyOf(bare)).unpriced]).toEqual([false, 1]);
    await insertOwnPrice(db, { customerId: shop.otter, productId: shop.oat, unitPriceMinor: 200 });
    await inTransaction(db, (transaction) => fixPrices(transaction, NOON, [bare]));
    const priced = await moneyOf(bare);
    expect([priced.fixed, priced.unpriced, priced.totals.goodsMinor]).toEqual([true, 0, 1200]);
  });

  it("prices many orders at once as it prices each alone", async () => {
    const { db } = database;
    await insertOwnPrice(db, { customerId: shop.otter, productId: shop.cedar, unitPriceMinor: 280 });
    const lines: readonly Line[] = [
      [shop.cedar, 7],
      [shop.oat, 5],
    ];
    const alone = await enter(lines);
    const together = [await enter(lines, { confirm: false }), await enter(lines, { confirm: false })];
    await inTransaction(db, async (transaction) => {
      await transaction
        .update(orders)
        .set({ state: "confirmed", confirmedAt: NOON })
        .where(eq(orders.state, "draft"));
      await fixPrices(transaction, NOON, together);
    });
    const wanted = await moneyOf(alone);
    expect(wanted.totals.goodsMinor).toBe(7 * 280 + 5 * 250);
    for (const orderId of together) expect(await moneyOf(orderId)).toEqual(wanted);
  });

  it("takes a market's prices from the usual retail list, the tax within them", async () => {
    const { db } = database;
    await insertPriceList(db, { kind: "retail", includesTax: true, prices: [[shop.cedar, 600]] });
    const market = await insertCustomer(db, { name: "Walrus Green", kind: "market" });
    const money = await quote(db, {
      customerId: market,
      today: TODAY,
      shipBy: TODAY,
      lines: [{ productId: shop.cedar, units: 1, unitPriceMinor: null, discountBasisPoints: 0 }],
    });
    expect(money?.totals).toMatchObject({ netMinor: 500, taxMinor: 100, grossMinor: 600 });
  });

  it("is said of as many at once as anybody asks for, each in its place and of its own day", async () => {
    const line = { productId: shop.cedar, unitPriceMinor: null, discountBasisPoints: 0 };
    const asked = Array.from({ length: 100 }, (_, place) => ({
      ...{ customerId: place === 50 ? 999 : shop.otter, today: TODAY, discountBasisPoints: 0 },
      ...{ shippingMinor: minorUnits(0), shipBy: place === 7 ? "2027-03-10" : TODAY },
      // 15,000 prices in all: more values than one statement takes one by one.
      lines: Array.from({ length: 150 }, () => ({ ...line, units: place + 1 })),
    }));
    const found = await quoteAll(database.db, asked);
    expect(found.map((money) => money?.totals.goodsMinor)).toEqual(
      asked.map((_, place) => (place === 50 ? undefined : 150 * 300 * (place + 1))),
    );
    expect([found[6], found[7]].map((money) => money?.lines[0]?.taxPpm)).toEqual([200_000, 250_000]);
  });
});

describe("changing a confirmed order", () => {
  async function change(
    orderId: number,
    given: { lines: readonly Line[]; customerId?: number; shipBy?: string },
  ) {
    const { db } = database;
    const [order] = await db.select().from(orders).where(eq(orders.id, orderId));
    if (!order) throw new Error("There is no such order");
    const standing = await db.select().from(orderLines).where(eq(orderLines.orderId, orderId));
    const changed = await inTransaction(db, (transaction) =>
      changeOrder(transaction, later.actor, {
        ...order,
        orderId,
        ...given,
        lines: given.lines.map(([productId, units]) => ({ productId, units })),
        seen: fingerprintOf({ ...order, draft: order.state === "draft", lines: standing } as Parameters<
          typeof fingerprintOf
        >[0]),
      } as Parameters<typeof changeOrder>[2]),
    );
    expect(changed).toMatchObject({ ok: true });
  }

  it("keeps the prices it has and gives new lines those of the day", async () => {
    const orderId = await enter([[shop.cedar, 12]]);
    for (const productId of [shop.cedar, shop.oat])
      await insertListPrice(database.db, {
        priceListId: shop.list,
        productId,
        validFrom: "2027-03-02",
        unitPriceMinor: 400,
      });
    await change(orderId, {
      lines: [
        [shop.cedar, 24],
        [shop.oat, 6],
      ],
      shipBy: "2027-03-12",
    });
    expect((await moneyOf(orderId)).lines).toMatchObject([
      { units: 24, unitPriceMinor: 300, taxPpm: 250_000 },
      { units: 6, unitPriceMinor: 400, taxPpm: 250_000 },
    ]);
  });

  it("can be looked at beforehand in the money its prices were fixed in", async () => {
    await database.sql`update workshop set rounding = 'order'`;
    const lines = [1, 2, 3].map(() => ({
      productId: shop.cedar,
      units: 1,
      unitPriceMinor: minorUnits(33),
      discountBasisPoints: 0,
    }));
    const asked = { customerId: shop.otter, today: TODAY, shipBy: TODAY, lines, discountBasisPoints: 0 };
    const shippingMinor = minorUnits(0);
    // Three lines of 0.33 at 20 %: 0.07 each by line, 0.20 together by order.
    expect((await quote(database.db, { ...asked, shippingMinor }))?.totals.taxMinor).toBe(20);
    const fixedMoney = { currency: "EUR", rounding: "line", pricesIncludeTax: false } as const;
    expect((await quote(database.db, { ...asked, shippingMinor, fixedMoney }))?.totals.taxMinor).toBe(21);
  });

  it("prices it anew when it turns out to be another customer's", async () => {
    const { db } = database;
    const heron = await insertCustomer(db, { name: "Heron & Thimble", shippingMinor: 900 });
    await insertOwnPrice(db, { customerId: heron, productId: shop.cedar, unitPriceMinor: 260 });
    const orderId = await enter([[shop.cedar, 12]]);
    await change(orderId, { lines: [[shop.cedar, 12]], customerId: heron });
    expect((await moneyOf(orderId)).totals).toMatchObject({
      goodsMinor: 3120,
      discountMinor: 0,
      netMinor: 4020,
    });
  });

  it("never reads the same numbers as other money, whoever writes", async () => {
    const { sql } = database;
    await enter([[shop.cedar, 12]]);
    for (const change of [sql`currency = 'JPY'`, sql`prices_include_tax = true`, sql`rounding = 'order'`])
      await expect(sql`update orders set ${change}`).rejects.toMatchObject({
        constraint_name: "orders_keep_their_money",
      });
    await expect(sql`update orders set priced_at = null`).rejects.toMatchObject({
      constraint_name: "orders_priced_has_its_terms",
    });
  });
});
