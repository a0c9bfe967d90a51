import { beforeAll, describe, expect, it } from "vitest";
import { furnish } from "../benchroom/benchRoom.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import type { Visitor } from "../build/visitor.ts";
import { insertLot, insertPackingPart, insertRecipe, insertSupply } from "../supplies/storeroom.ts";
import { helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let helper: Visitor;
let ball: number;

/** A ball of 118 g, half soda (older lot 2.00, newer 3.00 a kilogram), half acid of which nobody knows the price; a cup of 5. */
beforeAll(async () => {
  owner = await ownerInSetup(application);
  helper = await helperOf(application, owner);
  const { db, sql } = database;
  const room = await furnish(db);
  ball = room.ball;
  const soda = await insertSupply(db, { name: "Soda" });
  const acid = await insertSupply(db, { name: "Acid", kind: "acid" });
  const cup = await insertSupply(db, { name: "Cup", kind: "cup" });
  await insertRecipe(db, room.blendId, { [soda]: 500_000, [acid]: 500_000 });
  await insertPackingPart(db, { productId: ball, supplyId: cup });
  await insertLot(db, { supplyId: soda, code: "SSOD1", amount: 10_000_000, priceMinor: 2000 });
  await insertLot(db, { supplyId: soda, code: "SSOD2", amount: 10_000_000, priceMinor: 3000 });
  await insertLot(db, { supplyId: cup, code: "SCUPS", amount: 100, priceMinor: 500 });
  await sql`insert into price_lists (name, kind, includes_tax, usual) values ('Shop prices', 'wholesale', false, true)`;
  await sql`insert into list_prices (price_list_id, product_id, valid_from, unit_price_minor)
    values (1, ${ball}, '2027-01-01', 120), (1, ${ball}, '2027-03-02', 999)`;
});

describe("the costs", () => {
  it("are told of every product, with what each list in force leaves and what is not known", async () => {
    const text = textOf((await owner.get("/costs")).body);
    // 59 g of soda at 3.00 a kilogram are 17.7 and the cup 5: 22.7, of which 18 and 5 are shown.
    expect(text).toMatch(
      /Cedar amber ball At least: without Acid, whose price nobody knows\. €0\.18 €0\.05 €0\.23/,
    );
    expect(text).toContain("€0.97 80.83 % of €1.20");
    expect(text).toContain("Hands are not counted");
  });

  it("count hands and the average of what is there, where the owner says so", async () => {
    const wrong = await owner.post("/costs", { supplyCost: "guess", hour: "much" });
    expect(mistakeBeside(wrong, "hour")).toContain("Give an amount such as 4.50.");
    expect(wrong.statusCode).toBe(422);
    expect(ledTo(await owner.post("/costs", { supplyCost: "average", hour: "18,00" }))).toEqual([
      303,
      "/costs",
    ]);
    const page = (await owner.get("/costs")).body;
    // 59 g at 2.50 a kilogram are 14.75, the cup 5; 127 s and 118/2600 of 32 min at 18.00 an hour are 63.5 + 43.57.
    expect(textOf(page)).toMatch(/nobody knows\. €0\.15 €0\.05 €1\.07 3\.56 min €1\.27/);
    expect(headingOf(page)).toContain("Cedar amber ball is sold below it.");
    expect(textOf((await owner.get(`/setup/products/${ball}`)).body)).toContain(
      "\u2212€0.07 \u22125.83 % of €1.20",
    );
  });

  it("follow the price lists day by day", async () => {
    application.clock.set("2027-03-02T08:00:00Z");
    expect(textOf((await owner.get("/costs")).body)).toContain("of €9.99");
  });

  it("keep the currency, and are nothing for a helper", async () => {
    await expect(database.sql`update workshop set currency = 'JPY'`).rejects.toMatchObject({
      constraint_name: "workshop_keeps_its_currency",
    });
    expect((await helper.get("/costs")).statusCode).toBe(403);
  });
});
