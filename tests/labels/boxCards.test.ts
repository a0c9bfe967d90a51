import fc from "fast-check";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { cardPapers, cardSheets } from "../../server/labels/cardSheets.ts";
import { openFaces } from "../../server/labels/faces.ts";
import { layBoxCard } from "../../server/labels/layBoxCard.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertOrder, insertProduct, insertReadyLot, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, insertLamplitOtter, openWorkroom } from "../packing/workroom.ts";
import { readPdf } from "./readPdf.ts";

describe("the card of a box", () => {
  const faces = openFaces();

  it("fits at every size of paper, names of any length and lots of any number in it", () => {
    const name = (most: number) => fc.string({ minLength: 1, maxLength: most, unit: "grapheme-ascii" });
    const content = fc.array(
      fc.record({
        units: fc.integer({ min: 1, max: 9999 }),
        product: name(120),
        lotCode: fc.constant("K7QF"),
      }),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(name(120), content, fc.constantFrom(...cardPapers), (customer, inside, paper) => {
        const sheet = cardSheets[paper];
        const box = { number: 12, of: 30, reference: "W-104", customer, units: 240, content: inside };
        const { lines } = layBoxCard(box, sheet, faces);
        expect(lines[0]?.words).toBe("Box 12 of 30");
        for (const { left, width, baseline } of lines) {
          expect(left + width).toBeLessThanOrEqual(sheet.labelWidthMicrometres);
          expect(baseline).toBeLessThanOrEqual(sheet.labelHeightMicrometres);
        }
      }),
      { numRuns: 40 },
    );
  });

  it("says how many lots it does not name when they are too many", () => {
    const content = Array.from({ length: 60 }, (_, place) => ({
      ...{ units: 4, product: "Cedar ball", lotCode: `K${place + 100}` },
    }));
    const box = { number: 1, of: 1, reference: "W-104", customer: "The Lamplit Otter", units: 240, content };
    const words = layBoxCard(box, cardSheets.a4, faces).lines.map((line) => line.words);
    const named = words.filter((line) => line.startsWith("4 K")).length;
    expect(named).toBeGreaterThan(3);
    expect(words.at(-1)).toBe(`and ${60 - named} more on the packing slip`);
  });
});

describe("the cards of an order's boxes", () => {
  const application = useApplication();
  const { database } = application;
  let fig: Visitor;
  let orderId: number;

  beforeAll(async () => {
    ({ fig } = await openWorkroom(application));
  });

  /** 30 Cedar balls of two lots are wanted; 20 fill a box. */
  beforeEach(async () => {
    await emptyWorkroom(database);
    await database.sql`truncate box_sizes cascade`;
    const { db } = database;
    const shapeId = await insertShape(db);
    const cedar = await insertProduct(db, { name: "Cedar ball", shapeId });
    await insertReadyLot(db, { productId: cedar, units: 12 });
    await insertReadyLot(db, { productId: cedar, units: 30, code: "M3X" });
    const customerId = await insertLamplitOtter(db);
    const order = await insertOrder(db, { customerId, lines: [{ productId: cedar, units: 30 }] });
    orderId = order.orderId;
    await database.sql`
      with size as (insert into box_sizes (name, tare_milligrams) values ('Shoe box', 180000) returning id)
      insert into box_holds (box_size_id, shape_id, units) select id, ${shapeId}, 20 from size`;
  });

  it("are one a box of what stands packed: which of how many, order, customer, pieces by lot", async () => {
    await pack("K7Q");
    await pack("M3X");
    const page = (await fig.get(`/labels/orders/${orderId}/boxes`)).body;
    expect(headingOf(page)).toBe("Two box cards for W-104.");
    expect(textOf(page)).toContain("Box 1 of 2 Shoe box, 20 pieces 12 Cedar ball K7Q, 8 Cedar ball M3X");
    const answer = await fig.get(`/labels/orders/${orderId}/boxes.pdf?paper=a6`);
    expect(answer.headers["content-type"]).toBe("application/pdf");
    const cards = (await readPdf(answer.rawPayload)).map(({ words }) =>
      words.map((line) => line.words).join(" "),
    );
    expect(cards).toEqual([
      "Box 1 of 2 W-104 The Lamplit Otter 20 pieces 12 K7Q Cedar ball 8 M3X Cedar ball",
      "Box 2 of 2 W-104 The Lamplit Otter 10 pieces 10 M3X Cedar ball",
    ]);
  });

  it("are none while nothing is packed, and nowhere but at an order", async () => {
    const page = await fig.get(`/labels/orders/${orderId}/boxes`);
    expect(headingOf(page.body)).toContain("No boxes stand packed for W-104");
    expect((await fig.get(`/labels/orders/${orderId}/boxes.pdf`)).statusCode).toBe(409);
    expect((await fig.get(`/labels/orders/${orderId}/boxes.pdf?paper=a5`)).statusCode).toBe(422);
    expect((await fig.get("/labels/orders/999999/boxes")).statusCode).toBe(404);
  });

  it("name what goes into no box that is known", async () => {
    await database.sql`update box_sizes set retired_at = now()`;
    const other = await insertShape(database.db, { code: "egg-50" });
    await database.sql`
      with size as (insert into box_sizes (name, tare_milligrams) values ('Egg box', 90000) returning id)
      insert into box_holds (box_size_id, shape_id, units) select id, ${other}, 6 from size`;
    await pack("K7Q");
    expect(textOf((await fig.get(`/labels/orders/${orderId}/boxes`)).body)).toContain(
      "No box is known for 12 Cedar ball: they are on no card.",
    );
  });

  async function pack(scanned: string) {
    const fields = { scanned, scanned_units: "", last_move: "0" };
    expect((await fig.post(`/packing/${orderId}/scans`, fields, { from: "/packing" })).statusCode).toBe(303);
  }
});
