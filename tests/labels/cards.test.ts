import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { labelMaker } from "../../db/schema/labels.ts";
import { moves } from "../../db/schema/lots.ts";
import { cardPapers, cardSheets } from "../../server/labels/cardSheets.ts";
import { openFaces } from "../../server/labels/faces.ts";
import { type Card, layCard } from "../../server/labels/layCard.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertBlend,
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertPerson,
  insertPlan,
  insertProduct,
  insertReadyLot,
  insertRun,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { helperOf, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { readCode } from "./readCode.ts";
import { readPdf } from "./readPdf.ts";

const faces = openFaces();

describe("a card", () => {
  it("fits names of any length, at every size of paper, and leaves the code its quiet zone", () => {
    const name = (most: number) => fc.string({ minLength: 1, maxLength: most, unit: "grapheme-ascii" });
    fc.assert(
      fc.property(name(170), name(120), fc.constantFrom(...cardPapers), (product, customer, paper) => {
        const sheet = cardSheets[paper];
        const { lines, code } = layCard(
          card({ product, order: { reference: "W-104", customer } }),
          null,
          sheet,
          faces,
        );
        if (!code) throw new Error("A card without its code");
        const quiet = (code.width / code.squares.side) * 4;
        for (const { left, width } of lines)
          expect(left + width).toBeLessThanOrEqual(code.left - quiet + 1e-6);
        expect(sheet.labelWidthMicrometres - code.left - code.width).toBeGreaterThanOrEqual(quiet - 1e-6);
      }),
      { numRuns: 40 },
    );
  });
});

function card(given: Partial<Card>): Card {
  return {
    ...{ kind: "box", lotCode: "K7QF", product: "Cedar ball", units: 12, formedOn: "2027-03-01" },
    ...{ readyOn: null, number: 1, of: 1, order: null, gs1Number: null },
    ...given,
  };
}

describe("cards for trays and boxes", () => {
  const application = useApplication();
  let helper: Visitor;
  let drying: number;
  let ready: number;
  let runId: number;
  let orderId: number;
  beforeAll(async () => {
    const owner = await ownerInSetup(application);
    helper = await helperOf(application, owner);
    const { db, sql } = application.database;
    const blendId = await insertBlend(db, { code: "cedar" });
    const productId = await insertProduct(db, { blendId, code: "cedar/ball-60", name: "Cedar ball" });
    await db.insert(labelMaker).values({
      ...{
        market: "eu",
        makerName: "",
        makerPlace: "",
        contact: "",
        adultsOnly: false,
        gs1Prefix: "730001100",
      },
    });
    drying = await insertDryingLot(db, { productId, units: 50, code: "DRY4" });
    await sql`update lots set trays = 3 where id = ${drying}`;
    ready = await insertReadyLot(db, { productId, units: 40, code: "RDY7" });
    const planId = await insertPlan(db, { personId: await insertPerson(db, { name: "Moss Underhill" }) });
    const lots = [
      { productId, units: 20, code: "RUNA" },
      { productId, units: 30, code: "RUNB" },
    ];
    runId = (await insertRun(db, { planId, blendId, lots })).runId;
    const customerId = await insertCustomer(db, { name: "The Lamplit Otter" });
    const order = await insertOrder(db, { customerId, lines: [{ productId, units: 24 }] });
    orderId = order.orderId;
    await sql`update orders set state = 'packing' where id = ${orderId}`;
    const at = new Date("2027-03-01T08:00:00Z");
    const [orderLineId] = order.lineIds;
    if (!orderLineId) throw new Error("no line");
    await db.insert(moves).values({ lotId: ready, kind: "packed", units: -9, orderLineId, at });
  });

  const printed = async (url: string) => {
    const answer = await helper.get(url);
    expect([answer.statusCode, answer.headers["content-type"]], answer.body.slice(0, 200)).toEqual([
      200,
      "application/pdf",
    ]);
    return await readPdf(answer.rawPayload);
  };

  it("are one for each tray of a lot that dries, with its lot as words and as a code", async () => {
    const page = await helper.get(`/labels/lots/${drying}/cards`);
    expect(headingOf(page.body)).toBe("Three cards for lot DRY4.");
    const [sheet, ...more] = await printed(`/labels/lots/${drying}/cards.pdf?paper=a6`);
    expect(more).toHaveLength(2);
    expect([sheet?.width, sheet?.height].map((length) => Math.round(length ?? 0))).toEqual([148, 105]);
    expect(sheet?.words.map(({ words }) => words)).toEqual(
      expect.arrayContaining(["DRY4", "Cedar ball", "formed Mon 1 Mar, ready Wed 3 Mar"]),
    );
    expect(readCode(sheet?.squares ?? [])).toBe("DRY4");
  });

  it("are as many for boxes as the packer says, with the pieces in each", async () => {
    const [sheet] = await printed(`/labels/lots/${ready}/cards.pdf?kind=box&count=2&units=12&paper=a4`);
    const words = sheet?.words.map((one) => one.words) ?? [];
    expect(words.filter((one) => one === "RDY7")).toHaveLength(2);
    expect(words).toEqual(expect.arrayContaining(["12 pieces, box 1 of 2", "12 pieces, box 2 of 2"]));
    const wrong = await helper.get(`/labels/lots/${ready}/cards?count=0`);
    expect([wrong.statusCode, mistakeBeside(wrong, "count")]).toEqual([
      422,
      "Give a whole number from 1 to 200.",
    ]);
  });

  it("are those of all lots of a run", async () => {
    const page = textOf((await helper.get(`/labels/runs/${runId}/cards`)).body);
    expect(page).toContain("Two cards for the run of RUNA, RUNB.");
    const [sheet] = await printed(`/labels/runs/${runId}/cards.pdf`);
    const words = sheet?.words.map((one) => one.words) ?? [];
    expect(words).toEqual(expect.arrayContaining(["RUNA", "20 pieces", "RUNB", "30 pieces"]));
  });

  it("are of every lot that stands packed for an order, with where it goes", async () => {
    const [sheet] = await printed(`/labels/orders/${orderId}/cards.pdf?paper=a6`);
    const words = sheet?.words.map((one) => one.words) ?? [];
    expect(words).toEqual(expect.arrayContaining(["RDY7", "9 pieces"]));
    expect(words.join(" ")).toContain("W-104 The Lamplit Otter");
    // What has left the workshop stands here no more.
    const { sql } = application.database;
    await sql`insert into deliveries (order_id, how, state, shipped_at) values (${orderId}, 'parcel', 'shipped', now())`;
    await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
      select max(deliveries.id), order_line_id, lot_id, 9 from moves, deliveries where kind = 'packed'
      group by order_line_id, lot_id`;
    const empty = await helper.get(`/labels/orders/${orderId}/cards.pdf`);
    expect([empty.statusCode, headingOf(empty.body)]).toEqual([
      409,
      "Nothing stands packed for order W-104, so it needs no cards yet.",
    ]);
  });

  it("say product, day and lot in their code where the product has a number under the shop's prefix", async () => {
    await application.database.sql`update products set gs1_number = 1`;
    const [sheet] = await printed(`/labels/lots/${drying}/cards.pdf?paper=a6`);
    // 730001100 with 001 and the check digit 7, as GS1 publishes it; formed on 1 March 2027.
    expect(readCode(sheet?.squares ?? [])).toBe("0107300011000017" + "11270301" + "10DRY4");
  });

  it("of what is not there are not found", async () => {
    for (const of of ["lots", "runs", "orders"])
      expect((await helper.get(`/labels/${of}/999/cards`)).statusCode).toBe(404);
  });
});
