import { describe, expect, it } from "vitest";
import { casePacks } from "../../db/schema/customers.ts";
import { nearestCases, readCasePacks } from "../../server/prices/casePacks.ts";
import { insertBlend, insertCustomer, insertProduct, insertShape } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";

describe("a number of pieces", () => {
  it("is right when it fills whole cases", () => {
    expect([nearestCases(12, 12), nearestCases(36, 12), nearestCases(7, 1)]).toEqual([null, null, null]);
  });

  it("has a right number below and above it otherwise", () => {
    expect(nearestCases(13, 12)).toEqual({ below: 12, above: 24 });
    expect(nearestCases(23, 12)).toEqual({ below: 12, above: 24 });
  });

  it("has none below it when it does not fill the first case", () => {
    expect(nearestCases(5, 12)).toEqual({ below: null, above: 12 });
  });
});

describe("the case of a product", () => {
  const database = useDatabase();

  it("is the customer's own, else everybody's, else a single piece", async () => {
    const { db } = database;
    const ball = await insertShape(db);
    const heart = await insertShape(db, { code: "heart-70" });
    const puck = await insertShape(db, { code: "puck-40" });
    const blendId = await insertBlend(db);
    const product = (shapeId: number, code: string) => insertProduct(db, { blendId, shapeId, code });
    const [one, two, three] = [
      await product(ball, "cedar-amber/ball-60"),
      await product(heart, "cedar-amber/heart-70"),
      await product(puck, "cedar-amber/puck-40"),
    ];
    const otter = await insertCustomer(db, { name: "The Lamplit Otter" });
    const heron = await insertCustomer(db, { name: "Heron & Thimble" });
    await db.insert(casePacks).values([
      { shapeId: ball, units: 12 },
      { shapeId: heart, units: 6 },
      { shapeId: ball, customerId: otter, units: 1 },
    ]);
    expect(await readCasePacks(db, otter)).toEqual(
      new Map([
        [one, 1],
        [two, 6],
        [three, 1],
      ]),
    );
    expect(await readCasePacks(db, heron)).toEqual(
      new Map([
        [one, 12],
        [two, 6],
        [three, 1],
      ]),
    );
  });
});
