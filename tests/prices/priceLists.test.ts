import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertCustomer, insertProduct } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
let cedar: number;
let oat: number;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  const { db } = application.database;
  cedar = await insertProduct(db, { code: "cedar/ball-60" });
  oat = await insertProduct(db, { code: "oat/heart-70" });
});

const list = {
  name: "Stall prices",
  kind: "retail",
  includesTax: "yes",
  usual: "yes",
  validFrom: "2027-03-01",
};

/** A grid as it was shown, without prices, and as it was typed over. */
function grid(prices: Readonly<Record<number, string>>, was: Readonly<Record<number, string>> = {}) {
  const ids = [cedar, oat];
  return {
    validFrom: "2027-03-01",
    product: ids.map(String),
    was: ids.map((id) => was[id] ?? ""),
    price: ids.map((id) => prices[id] ?? was[id] ?? ""),
  };
}

const pricesThere = async () =>
  (
    await application.database.sql<{ words: string }[]>`
      select price_lists.name || ' ' || products.code || ' ' || valid_from || ' ' || coalesce(unit_price_minor::text, 'off') as words
      from list_prices join price_lists on price_lists.id = price_list_id join products on products.id = product_id
      order by list_prices.id`
  ).map(({ words }) => words);

describe("a price list", () => {
  it("begins empty, and gets its prices by the day they hold from", async () => {
    expect(ledTo(await owner.post("/setup/prices", list))).toEqual([303, "/setup/prices/1"]);
    expect((await owner.get("/setup/prices/1")).body).toContain("<h1>Stall prices has no prices yet.</h1>");
    await owner.post("/setup/prices/1/prices", grid({ [cedar]: "5,90", [oat]: "4.90" }));
    expect(await pricesThere()).toEqual([
      "Stall prices cedar/ball-60 2027-03-01 590",
      "Stall prices oat/heart-70 2027-03-01 490",
    ]);
    const page = await owner.get("/setup/prices/1");
    expect(page.body).toContain("<h1>Stall prices has a price for two products.</h1>");
    expect(page.body).toMatch(/name="price"[^>]*value="5\.90"/);
    expect((await changesOf(application, "price list")).map(({ what }) => what)).toEqual(["added", "priced"]);
  });

  it("keeps only what was changed, from the day that was given", async () => {
    const shown = { [cedar]: "5.90", [oat]: "4.90" };
    await owner.post("/setup/prices/1/prices", {
      ...grid({ [cedar]: "6.20" }, shown),
      validFrom: "2027-06-01",
    });
    expect(await pricesThere()).toEqual([
      "Stall prices cedar/ball-60 2027-03-01 590",
      "Stall prices oat/heart-70 2027-03-01 490",
      "Stall prices cedar/ball-60 2027-06-01 620",
    ]);
    expect((await owner.get("/setup/prices/1")).body).toContain("Changes on Tue 1 Jun.");
    expect((await changesOf(application, "price list")).at(-1)).toMatchObject({
      before: { validFrom: "2027-06-01", prices: [{ productId: cedar, unitPriceMinor: 590 }] },
      after: { validFrom: "2027-06-01", prices: [{ productId: cedar, unitPriceMinor: 620 }] },
    });
  });

  it("answers a wrong price beside its product and keeps none", async () => {
    const before = await pricesThere();
    const answer = await owner.post("/setup/prices/1/prices", grid({ [cedar]: "1.234", [oat]: "3" }));
    expect([answer.statusCode, mistakeBeside(answer, "prices.0.price")]).toEqual([
      422,
      "This could be read in two ways: write 1234 for the large amount, or 1.23 for the small one.",
    ]);
    expect(answer.body).toMatch(/name="price"[^>]*value="1\.234"/);
    const dear = await owner.post("/setup/prices/1/prices", grid({ [cedar]: "100000.01" }));
    expect(mistakeBeside(dear, "prices.0.price")).toContain("from €0.00 to €100\u202f000.00");
    expect(await pricesThere()).toEqual(before);
  });

  it("takes a product off with a blank", async () => {
    await owner.post("/setup/prices/1/prices", grid({ [oat]: " " }, { [cedar]: "5.90", [oat]: "4.90" }));
    expect(await pricesThere()).toContain("Stall prices oat/heart-70 2027-03-01 off");
    expect((await owner.get("/setup/prices/1")).body).toContain(
      "a price for one product; one product has none.",
    );
  });

  it("can begin with so many per cent of another, a half cent upwards", async () => {
    const copied = {
      ...list,
      name: "Shop prices",
      kind: "wholesale",
      includesTax: "no",
      copyOf: "1",
      share: "47,5",
    };
    expect(ledTo(await owner.post("/setup/prices", copied))).toEqual([303, "/setup/prices/2"]);
    // 47.5 % of 5.90 is 2.8025; of 6.20, from June, nothing is copied.
    expect((await pricesThere()).filter((words) => words.startsWith("Shop"))).toEqual([
      "Shop prices cedar/ball-60 2027-03-01 280",
    ]);
    const answer = await owner.post("/setup/prices", { ...copied, name: "Dear", copyOf: "99" });
    expect(mistakeBeside(answer, "copyOf")).toContain("not there");
  });

  it("is the only usual one of its kind", async () => {
    await owner.post("/setup/prices", { ...list, name: "Fair prices" });
    const usual = await application.database.sql`select name from price_lists where usual order by id`;
    expect(usual.map(({ name }) => name)).toEqual(["Shop prices", "Fair prices"]);
    await expect(application.database.sql`update price_lists set usual = true`).rejects.toMatchObject({
      constraint_name: "price_lists_one_usual",
    });
  });

  it("has a name of its own, and keeps how its prices are stated", async () => {
    const answer = await owner.post("/setup/prices", { ...list, name: "stall PRICES" });
    expect(mistakeBeside(answer, "name")).toContain("Another price list has this name");
    await expect(
      application.database.sql`update price_lists set includes_tax = false where id = 1`,
    ).rejects.toMatchObject({ constraint_name: "price_lists_keep_their_meaning" });
  });

  it("is not retired while somebody buys from it", async () => {
    const customerId = await insertCustomer(application.database.db, { name: "Moth", priceListId: 1 });
    const answer = await owner.post("/setup/prices/1/retirement", {});
    expect([answer.statusCode, answer.body.includes("Customers still buy from it")]).toEqual([409, true]);
    await application.database.sql`update customers set price_list_id = null where id = ${customerId}`;
    expect((await owner.post("/setup/prices/1/retirement", {})).statusCode).toBe(303);
    expect((await owner.get("/setup/prices")).body).toContain("1 retired price list");
    await owner.post("/setup/prices/1/return", {});
    expect((await owner.post("/setup/prices/3/retirement", {})).statusCode).toBe(409);
  });

  it("answers 404 where there is none", async () => {
    expect((await owner.get("/setup/prices/99")).statusCode).toBe(404);
    expect((await owner.post("/setup/prices/99/prices", grid({ [cedar]: "1" }))).statusCode).toBe(404);
  });
});

describe("prices of one customer alone", () => {
  it("stand beside the list's, and go back to it with a blank", async () => {
    const customerId = await insertCustomer(application.database.db, { name: "The Lamplit Otter" });
    const address = `/setup/customers/${customerId}/prices`;
    expect((await owner.get(address)).body).toContain("<h1>The Lamplit Otter pays what its list asks.</h1>");
    expect((await owner.get(address)).body).toContain("List: €2.80.");
    await owner.post(address, grid({ [cedar]: "2.60" }));
    expect((await owner.get(address)).body).toContain("has prices of its own for one product.");
    await owner.post(address, grid({ [cedar]: "" }, { [cedar]: "2.60" }));
    expect((await owner.get(address)).body).toContain("pays what its list asks.");
    expect(await changesOf(application, "customer")).toMatchObject([
      { before: { prices: [{ unitPriceMinor: null }] }, after: { prices: [{ unitPriceMinor: 260 }] } },
      { before: { prices: [{ unitPriceMinor: 260 }] }, after: { prices: [{ unitPriceMinor: null }] } },
    ]);
  });
});

describe("a helper", () => {
  it("sees no price anywhere in the setup", async () => {
    const helper = await helperOf(application, owner);
    for (const address of [
      "/setup/prices",
      "/setup/prices/1",
      "/setup/money",
      "/setup/taxes",
      "/setup/costs",
      "/setup/customers/1/prices",
    ])
      expect((await helper.get(address)).statusCode, address).toBe(403);
  });
});
