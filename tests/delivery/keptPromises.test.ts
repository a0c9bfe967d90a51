import { parse } from "csv-parse/sync";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { changeOrder } from "../../server/orders/changeOrder.ts";
import { fingerprintOf } from "../../server/orders/content.ts";
import { enterOrder } from "../../server/orders/enterOrder.ts";
import { findOrder, listLines } from "../../server/orders/oneOrder.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCustomer, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, newPacker, openWorkroom, type Packer } from "../packing/workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let hands: Packer;
let cedar: number;
let lotId: number;
let otter: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
  hands = await newPacker(database, "Hands");
});

beforeEach(async () => {
  await emptyWorkroom(database);
  application.clock.set("2027-03-01T08:00:00Z");
  cedar = await insertProduct(database.db, { name: "Cedar ball" });
  lotId = await insertReadyLot(database.db, { productId: cedar, units: 400 });
  otter = await insertCustomer(database.db, { name: "The Lamplit Otter", takesPartDeliveries: true });
});

describe("what was promised", () => {
  it("is written down when an order is confirmed, not while it is a draft, and again only when it changes", async () => {
    const draft = await enter({ confirm: false });
    expect(await promisesOf(draft)).toEqual([]);
    const orderId = await enter({ shipBy: "2027-03-05" });
    await change(orderId, { shipBy: "2027-03-05", units: 12, note: "Ring first" });
    await change(orderId, { shipBy: "2027-03-09", units: 12 });
    await change(orderId, { shipBy: "2027-03-09", units: 10 });
    expect(await promisesOf(orderId)).toEqual(["2027-03-05: 12", "2027-03-09: 12", "2027-03-09: 10"]);
  });

  it("is never rewritten", async () => {
    await enter({});
    await expect(database.sql`update order_promises set ship_by = '2027-04-01'`).rejects.toThrow(
      "never changed",
    );
    await expect(database.sql`delete from order_promise_lines`).rejects.toThrow("never changed");
  });
});

describe("an order that left in parts, one of them late", () => {
  it("says on its own page and on each delivery what was promised and what left when", async () => {
    const orderId = await enter({ shipBy: "2027-03-02" });
    const first = await send(orderId, 5, "2027-03-02T10:00:00Z");
    await send(orderId, 7, "2027-03-04T10:00:00Z");
    application.clock.set("2027-03-05T08:00:00Z");
    for (const [who, path] of [
      [owner, `/orders/${orderId}`],
      [fig, `/delivery/${first}`],
    ] as const) {
      const text = textOf((await who.get(path)).body);
      expect(text).toContain("Promised for Tuesday 2 March: late or short");
      expect(text).toContain("Cedar ball 12 5 7 0 Thu 4 Mar");
    }
  });

  it("stays late although its date was moved when it had gone by", async () => {
    const orderId = await enter({ shipBy: "2027-03-02" });
    await send(orderId, 5, "2027-03-02T10:00:00Z");
    application.clock.set("2027-03-03T08:00:00Z");
    await change(orderId, { shipBy: "2027-03-09", units: 12 }, new Date("2027-03-03T08:00:00Z"));
    await send(orderId, 7, "2027-03-04T10:00:00Z");
    const text = textOf((await owner.get(`/orders/${orderId}`)).body);
    expect(text).toContain("Promised for Tuesday 2 March: late or short");
    expect(text).toContain(
      "Moved to Tue 9 Mar on Wed 3 Mar, when the date had gone by: it counts all the same.",
    );
  });
});

describe("the page of kept promises", () => {
  it("counts by month and customer, tells what it counts, and gives every order behind it as a file", async () => {
    await send(await enter({ reference: "W-1", shipBy: "2027-03-02" }), 12, "2027-03-02T23:30:00Z");
    await send(await enter({ reference: "W-2", shipBy: "2027-03-02" }), 12, "2027-03-03T00:30:00Z");
    await enter({ reference: "W-3", shipBy: "2027-03-02" });
    await enter({ reference: "W-4", shipBy: "2027-03-20" });
    const off = await enter({ reference: "=W-5", shipBy: "2027-03-02" });
    await database.sql`update orders set state = 'cancelled', cancelled_at = now() where id = ${off}`;
    const stall = await insertCustomer(database.db, { name: "Quayside", kind: "market" });
    await enter({ reference: "M-6", shipBy: "2027-03-02", customerId: stall });
    application.clock.set("2027-03-10T08:00:00Z");
    const { body } = await owner.get("/delivery/promises");
    expect(headingOf(body)).toBe("1 of 3 orders due in March 2027 so far left whole and on time.");
    const text = textOf(body);
    expect(text).toContain("March 2027 1 of 3 (33.3 %) February 2027 none due");
    expect(text).toContain("The Lamplit Otter 1 of 3 (33.3 %)");
    expect(text).toContain("W-3 for The Lamplit Otter, promised for Tue 2 Mar: 0 of 12 left by then");
    expect(text).toContain("Cancelled orders and market crates do not count.");
    const file = await owner.get("/delivery/promises.csv");
    const rows = parse(file.body, { bom: true, columns: true }) as Record<string, string>[];
    expect(
      rows.map((row) => [row.order, row.pieces_left_by_then, row.pieces_left_later, row.on_time]),
    ).toEqual([
      ["W-1", "12", "0", "yes"],
      ["W-2", "0", "12", "no"],
      ["W-3", "0", "0", "no"],
    ]);
  });

  it("is the owner's", async () => {
    for (const path of ["/delivery/promises", "/delivery/promises.csv"])
      expect((await fig.get(path)).statusCode).toBe(403);
  });
});

interface Entered {
  readonly reference?: string;
  readonly shipBy?: string;
  readonly confirm?: boolean;
  readonly customerId?: number;
}

async function enter({
  reference,
  shipBy = "2027-03-05",
  confirm = true,
  customerId = otter,
}: Entered): Promise<number> {
  const lines = [{ productId: cedar, units: 12 }];
  const order = { customerId, shipBy, confirm, lines, terms: null, note: "", reference: reference ?? null };
  const entered = await hands.do(enterOrder, order, new Date("2027-03-01T08:00:00Z"));
  if (!entered.ok) throw new Error(`Refused: ${JSON.stringify(entered.refusal)}`);
  return entered.value.orderId;
}

/** Packs so many and lets them leave. */
async function send(orderId: number, units: number, at: string): Promise<number> {
  const [line] = await database.sql<{ id: number }[]>`select id from order_lines where order_id = ${orderId}`;
  await hands.do(packPieces, { orderLineId: line?.id ?? 0, takes: [{ lotId, units }] }, new Date(at));
  await hands.do(markPacked, { orderId, leavesShort: false }, new Date(at));
  const left = await hands.do(shipOrder, { orderId, how: "parcel", parcels: [] }, new Date(at));
  if (!left.ok) throw new Error(`Refused: ${JSON.stringify(left.refusal)}`);
  return left.value.deliveryId;
}

async function change(
  orderId: number,
  to: { readonly shipBy: string; readonly units: number; readonly note?: string },
  at = new Date("2027-03-01T09:00:00Z"),
): Promise<void> {
  const order = await findOrder(database.db, orderId);
  if (!order) throw new Error(`There is no order ${orderId}`);
  const lines = await listLines(database.db, orderId);
  const seen = fingerprintOf({ ...order, draft: false, lines });
  const { customerId, reference } = order;
  const changed = {
    orderId,
    customerId,
    reference,
    seen,
    terms: null,
    note: to.note ?? "",
    shipBy: to.shipBy,
  };
  const outcome = await hands.do(
    changeOrder,
    { ...changed, lines: [{ productId: cedar, units: to.units }] },
    at,
  );
  if (!outcome.ok) throw new Error(`Refused: ${JSON.stringify(outcome.refusal)}`);
}

async function promisesOf(orderId: number): Promise<readonly string[]> {
  const rows = await database.sql<
    { said: string }[]
  >`select ship_by || ': ' || units as said from order_promises
    join order_promise_lines on promise_id = order_promises.id where order_id = ${orderId} order by order_promises.id`;
  return rows.map(({ said }) => said);
}
