import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertCustomer, insertOrder, insertProduct } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const otter = {
  name: "The Lamplit Otter",
  kind: "shop",
  takesPartDeliveries: "yes",
  priorityWeight: "1.5",
  contactName: "Odile Marsh",
  email: "odile@otter.example",
  phone: "",
  address: "1 Reed Lane\nMudford",
  notes: "",
};
const market = { name: "Saturday market", kind: "market", priorityWeight: "1" };

const customersThere = () => application.database.sql`select * from customers order by id`;
const idOf = async (name: string) =>
  (await application.database.sql`select id from customers where name = ${name}`)[0]?.id;

describe("adding a customer", () => {
  it("keeps a shop with everything known of it, once", async () => {
    const formToken = randomUUID();
    const answer = await owner.post("/setup/customers", otter, { formToken });
    await owner.post("/setup/customers", otter, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/customers"]);
    const rows = await customersThere();
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      kind: "shop",
      takes_part_deliveries: true,
      priority_weight: "1.50",
      address: "1 Reed Lane\nMudford",
    });
    expect(await changesOf(application, "customer")).toMatchObject([
      { what: "added", after: { name: "The Lamplit Otter" } },
    ]);
  });

  it("keeps a market of which only the name is known", async () => {
    expect((await owner.post("/setup/customers", market)).statusCode).toBe(303);
    const page = await owner.get("/setup/customers");
    expect(page.body).toContain("<h1>1 shop and 1 market to make for.</h1>");
    expect(page.body).not.toContain("<search>");
  });

  it("answers each mistake beside its field and adds nothing", async () => {
    const answer = await owner.post("/setup/customers", {
      ...otter,
      name: "x".repeat(121),
      kind: "museum",
      priorityWeight: "0",
      email: "not an address",
      address: "x".repeat(501),
    });
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "name")).toBe("Use at most 120 characters.");
    expect(mistakeBeside(answer, "kind")).toBe("Choose a shop or a market.");
    expect(mistakeBeside(answer, "priorityWeight")).toContain("from 0.01 to 100");
    expect(mistakeBeside(answer, "contacts.0.email")).toContain("Give an e-mail address");
    expect(mistakeBeside(answer, "address")).toBe("Use at most 500 characters.");
    expect(await customersThere()).toHaveLength(2);
  });

  it("refuses a market that takes part deliveries, in the form and in the table", async () => {
    const answer = await owner.post("/setup/customers", {
      ...market,
      name: "Fair",
      takesPartDeliveries: "yes",
    });
    expect(mistakeBeside(answer, "takesPartDeliveries")).toContain("leave this unticked");
    await expect(
      application.database.sql`update customers set takes_part_deliveries = true where kind = 'market'`,
    ).rejects.toMatchObject({ constraint_name: "customers_markets_take_no_parts" });
  });

  it("refuses a name that another customer has, however it is capitalised, in the form and in the table", async () => {
    const answer = await owner.post("/setup/customers", { ...otter, name: "the lamplit OTTER" });
    expect([answer.statusCode, mistakeBeside(answer, "name")]).toEqual([
      422,
      "Another customer has this name: tell the two apart.",
    ]);
    await expect(
      application.database.sql`insert into customers (name, kind) values ('THE LAMPLIT OTTER', 'shop')`,
    ).rejects.toMatchObject({ constraint_name: "customers_name_unique" });
  });
});

describe("changing a customer", () => {
  it("keeps the new facts with those before", async () => {
    const id = await idOf(otter.name);
    await owner.post(`/setup/customers/${id}`, { ...otter, phone: "555 0101", priorityWeight: "2" });
    expect((await changesOf(application, "customer")).at(-1)).toMatchObject({
      what: "changed",
      before: { contacts: [{ name: "Odile Marsh", phone: "" }], priorityWeight: 1.5 },
      after: { contacts: [{ name: "Odile Marsh", phone: "555 0101" }], priorityWeight: 2 },
    });
    const page = await owner.get(`/setup/customers/${id}`);
    expect(page.body).toContain("<h1>The Lamplit Otter, a shop with no order yet.</h1>");
    expect(page.body).toContain("1 Reed Lane\nMudford</textarea>");
  });

  it("writes nothing down when nothing is different", async () => {
    const before = await changesOf(application, "customer");
    const id = await idOf(otter.name);
    await owner.post(`/setup/customers/${id}`, { ...otter, phone: "555 0101", priorityWeight: "2" });
    expect(await changesOf(application, "customer")).toEqual(before);
  });

  it("can make a market of a shop until it has orders", async () => {
    const { db } = application.database;
    const customerId = await insertCustomer(db, { name: "Three Left Boots" });
    const asMarket = { ...market, name: "Three Left Boots" };
    const asShop = { ...asMarket, kind: "shop" };
    expect((await owner.post(`/setup/customers/${customerId}`, asMarket)).statusCode).toBe(303);
    expect((await owner.post(`/setup/customers/${customerId}`, asShop)).statusCode).toBe(303);
    await insertOrder(db, { customerId, lines: [{ productId: await insertProduct(db), units: 12 }] });
    const answer = await owner.post(`/setup/customers/${customerId}`, asMarket);
    expect(mistakeBeside(answer, "kind")).toContain("It has orders already");
    const [row] = await application.database.sql`select kind from customers where id = ${customerId}`;
    expect(row?.kind).toBe("shop");
  });

  it("refuses another customer's name and answers 404 for one that is not there", async () => {
    const answer = await owner.post(`/setup/customers/${await idOf(otter.name)}`, {
      ...otter,
      name: market.name,
    });
    expect(mistakeBeside(answer, "name")).toContain("Another customer has this name");
    expect((await owner.get("/setup/customers/999")).statusCode).toBe(404);
    expect((await owner.post("/setup/customers/x", otter)).statusCode).toBe(404);
  });
});

describe("retiring and finding customers", () => {
  it("retires one and brings it back", async () => {
    const id = await idOf(otter.name);
    expect(ledTo(await owner.post(`/setup/customers/${id}/retirement`, {}))).toEqual([
      303,
      "/setup/customers",
    ]);
    expect((await owner.get("/setup/customers")).body).toContain("1 retired customer");
    await owner.post(`/setup/customers/${id}/return`, {});
    expect((await changesOf(application, "customer")).slice(-2).map(({ what }) => what)).toEqual([
      "retired",
      "brought back",
    ]);
  });

  it("offers to look for a part of a name once there are more than a dozen", async () => {
    for (let number = 1; number <= 12; number += 1) {
      await insertCustomer(application.database.db, { name: `Shop 100% no. ${number}` });
    }
    expect((await owner.get("/setup/customers")).body).toContain("<search>");
    const found = await owner.get("/setup/customers?q=OTTER");
    expect(found.body).toContain("1 name with “OTTER” in it.");
    expect(found.body).not.toContain("Shop 100%");
  });

  it("takes what is looked for literally, and shows it as text", async () => {
    expect((await owner.get("/setup/customers?q=%25")).body).toContain("12 names with");
    expect((await owner.get("/setup/customers?q=_")).body).toContain("Nobody's name");
    const attack = await owner.get(`/setup/customers?q=${encodeURIComponent("<script>x</script>")}`);
    expect(attack.body).toContain("&lt;script>");
    expect(attack.body).not.toContain("<script>x");
    const odd = await owner.get("/setup/customers?q=a&q=b%00");
    expect(odd.statusCode).toBe(200);
  });
});
