import { eq } from "drizzle-orm";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { products } from "../../db/schema/products.ts";
import { recipeParts, recipes } from "../../db/schema/recipes.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { boxUp } from "../../server/packing/boxUp.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertOrder, insertProduct, insertReadyLot, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, firstOf, insertLamplitOtter, openWorkroom } from "./workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let ballId: number;
let cedar: number;
let customerId: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
});

/** A ball of 118 g; no recipe says what evaporates of it. */
beforeEach(async () => {
  await emptyWorkroom(database);
  await database.sql`truncate box_sizes cascade`;
  ballId = await insertShape(database.db, { name: "Ball", pieceMilligrams: 118_000 });
  cedar = await insertProduct(database.db, { name: "Cedar ball", shapeId: ballId });
  customerId = await insertLamplitOtter(database.db);
});

describe("a size of box", () => {
  it("is added with what fills it, changed, retired and brought back, each written down", async () => {
    expect((await addShoeBox()).headers.location).toBe("/setup/boxes");
    const list = textOf((await owner.get("/setup/boxes")).body);
    expect(list).toContain("Orders leave in 1 size of box.");
    expect(list).toContain("Shoe box 180 g 300 × 190 × 110 mm 20 pieces of Ball");
    const [box] = await database.sql<{ id: number }[]>`select id from box_sizes`;
    const address = `/setup/boxes/${box?.id}`;
    expect((await owner.get(address)).body).toContain('value="20"');
    await post(address, { ...shoeBox(), tare_grams: "200", holdsUnits: "" });
    expect(textOf((await owner.get("/setup/boxes")).body)).toContain("200 g");
    await post(`${address}/retirement`, {});
    await post(`${address}/return`, {});
    const changes = await database.sql<{ what: string }[]>`
      select what from changes where subject = 'box size' order by id`;
    expect(changes.map(({ what }) => what)).toEqual(["added", "changed", "retired", "brought back"]);
  });

  it.each([
    [{ name: " " }, "Fill this in."],
    [{ tare_grams: "a bit" }, "Give a whole number from 1 to 50 000."],
    [{ inner_width: "" }, "Give all three sides, or none."],
    [{ holdsUnits: "0" }, "Give a whole number from 1 to 10 000."],
  ])("is not taken with %j", async (wrong, words) => {
    const answer = await post("/setup/boxes", { ...shoeBox(), ...wrong });
    expect(answer.statusCode).toBe(422);
    expect(textOf(answer.body)).toContain(words);
    expect(answer.body).toContain('value="300"');
    expect(await database.sql`select 1 from box_sizes`).toHaveLength(0);
  });

  it("has a name of its own, however it is capitalised, and shapes that are there", async () => {
    await addShoeBox();
    const twice = await post("/setup/boxes", { ...shoeBox(), name: "SHOE BOX" });
    expect([twice.statusCode, textOf(twice.body).includes("tell the two apart")]).toEqual([422, true]);
    const gone = await post("/setup/boxes", { ...shoeBox(), name: "Crate", holdsShape: "999999" });
    expect(gone.statusCode).toBe(409);
  });
});

describe("the boxes of an order", () => {
  it("stand at the packing table with their weight, and what is not counted in it", async () => {
    const { orderId } = await insertOrder(database.db, {
      customerId,
      lines: [{ productId: cedar, units: 24 }],
    });
    expect(textOf((await fig.get(`/packing/${orderId}`)).body)).not.toContain("goes into");
    await addShoeBox();
    const text = textOf((await fig.get(`/packing/${orderId}`)).body);
    expect(text).toContain("The whole order goes into two boxes.");
    // 180 g and 20 times 118 g; then 180 g and 4 times 118 g.
    expect(text).toContain("1. Shoe box 20 pieces, 2 540 g 20 Cedar ball");
    expect(text).toContain("2. Shoe box 4 pieces, 652 g 4 Cedar ball");
    expect(text).toContain(
      "undried where there is no recipe; bags, ties, wraps and filling are not counted.",
    );
  });

  it("say of which shapes no box is known", async () => {
    await addShoeBox();
    const puck = await insertProduct(database.db, { name: "Oat puck", code: "oat/puck-40" });
    const lines = [
      { productId: cedar, units: 4 },
      { productId: puck, units: 6 },
    ];
    const { orderId } = await insertOrder(database.db, { customerId, lines });
    expect(textOf((await fig.get(`/packing/${orderId}`)).body)).toContain(
      "The whole order goes into one box. 6 Oat puck: no box is known.",
    );
  });

  it("are at the shipping page those of what stands packed, lot by lot", async () => {
    await addShoeBox();
    const order = { customerId, terms: "as-ready", lines: [{ productId: cedar, units: 24 }] } as const;
    const { orderId, lineIds } = await insertOrder(database.db, order);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 30 });
    const taken = { lot: String(lotId), units: "5", last_move: "0" };
    await fig.post(`/packing/${orderId}/lines/${firstOf(lineIds)}/pieces`, taken, { from: "/packing" });
    const page = (await fig.get(`/delivery/orders/${orderId}`)).body;
    expect(headingOf(page)).toContain("5 pieces of W-104 can leave now");
    expect(textOf(page)).toContain("What stands packed goes into one box.");
    expect(textOf(page)).toContain("5 pieces, 770 g 5 Cedar ball (lot K7Q)");
  });

  it("are of what has not left yet, on both pages", async () => {
    await addShoeBox();
    const order = { customerId, terms: "as-ready", lines: [{ productId: cedar, units: 24 }] } as const;
    const { orderId } = await insertOrder(database.db, order);
    await insertReadyLot(database.db, { productId: cedar, units: 30 });
    await packScanned(orderId, 5);
    const left = await fig.post(
      `/delivery/orders/${orderId}/shipment`,
      { how: "collected" },
      { from: "/delivery" },
    );
    expect(left.statusCode).toBe(303);
    await packScanned(orderId, 3);
    expect(textOf((await fig.get(`/delivery/orders/${orderId}`)).body)).toContain("3 pieces, 534 g");
    // 24 less the 5 that have left.
    expect(textOf((await fig.get(`/packing/${orderId}`)).body)).toContain("19 pieces, 2 422 g");
  });

  it("weigh what pieces weigh dry, by the recipe that holds", async () => {
    await addShoeBox();
    await addRecipe();
    const { orderId } = await insertOrder(database.db, {
      customerId,
      lines: [{ productId: cedar, units: 10 }],
    });
    const text = textOf((await fig.get(`/packing/${orderId}`)).body);
    // 118 g of mix of which a tenth evaporates are 106.2 g.
    expect(text).toContain("10 pieces, 1 242 g");
    expect(text).toContain("Weights are the empty box and the dry pieces;");
  });
});

describe("laying pieces into boxes", () => {
  it("goes from lot to lot in the order given, and loses none", () => {
    const of = (lotCode: string, units: number) => ({
      ...{ lotCode, units, product: "Cedar ball", shapeId: 1, pieceMilligrams: 100_000 },
    });
    const size = { id: 1, name: "Shoe box", tareMilligrams: 180_000, holds: new Map([[1, 20]]) };
    const { boxes } = boxUp([of("K7Q", 12), of("M3X", 15)], [size]);
    expect(boxes.map(({ number, of: all, content }) => [number, all, content.map(short)])).toEqual([
      [1, 2, ["12 K7Q", "8 M3X"]],
      [2, 2, ["7 M3X"]],
    ]);
    expect(boxes.map(({ milligrams }) => milligrams)).toEqual([2_180_000, 880_000]);
  });
});

const short = ({ units, lotCode }: { units: number; lotCode: string | null }) => `${units} ${lotCode}`;

function shoeBox() {
  const inside = { inner_length: "300", inner_width: "190", inner_height: "110" };
  return { name: "Shoe box", tare_grams: "180", ...inside, holdsShape: String(ballId), holdsUnits: "20" };
}

async function packScanned(orderId: number, units: number) {
  const [last] =
    await database.sql`select coalesce(max(id), 0) as id from moves where order_line_id is not null`;
  const fields = { scanned: "K7Q", scanned_units: String(units), last_move: String(last?.id) };
  const answer = await fig.post(`/packing/${orderId}/scans`, fields, { from: "/packing" });
  expect(answer.statusCode, textOf(answer.body)).toBe(303);
}

/** Nine parts of soda and one of alcohol, all of which evaporates. */
async function addRecipe(): Promise<void> {
  await database.db.transaction(async (transaction) => {
    const [soda, alcohol] = await transaction
      .insert(supplies)
      .values([
        { name: "Soda", kind: "soda" },
        { name: "Alcohol", kind: "alcohol", evaporatesBasisPoints: 10_000 },
      ])
      .returning({ id: supplies.id });
    const [product] = await transaction.select().from(products).where(eq(products.id, cedar));
    const [recipe] = await transaction
      .insert(recipes)
      .values({
        ...{ blendId: product?.blendId ?? 0, version: 1, validFrom: "2027-01-01", category: "9" },
        createdAt: new Date("2027-01-01T08:00:00Z"),
      })
      .returning({ id: recipes.id });
    const part = { recipeId: recipe?.id ?? 0, thousandths: 1000, unit: "g" } as const;
    await transaction.insert(recipeParts).values([
      { ...part, place: 0, supplyId: soda?.id ?? 0, phase: "dry", milligramsPerKilogram: 900_000 },
      { ...part, place: 1, supplyId: alcohol?.id ?? 0, phase: "liquid", milligramsPerKilogram: 100_000 },
    ]);
  });
}

function addShoeBox() {
  return post("/setup/boxes", shoeBox());
}

function post(address: string, fields: Record<string, string>) {
  return owner.post(address, fields, { from: "/setup/boxes" });
}
