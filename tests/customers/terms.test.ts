import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertPriceList, insertTaxGroup } from "../build/priceRows.ts";
import { insertContact, insertCustomer, insertProduct, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
let ball: number;
let heart: number;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  const { db } = application.database;
  ball = await insertShape(db);
  heart = await insertShape(db, { code: "heart-70" });
  await insertProduct(db, { shapeId: ball });
  await insertPriceList(db, { name: "Fair prices", usual: false });
  await insertTaxGroup(db, { name: "Abroad", rates: { "2020-01-01": 0 } });
});

const otter = {
  name: "The Lamplit Otter",
  kind: "shop",
  priorityWeight: "1",
  contactName: ["Odile Marsh", "", "Perpetua Quill"],
  contactRole: ["orders", "", ""],
  phone: ["555 0101", "", ""],
  email: ["odile@otter.example", "", "quill@otter.example"],
  takesBy: "parcel",
  transitDays: "2",
  netDays: "30",
  orderDiscount: "2,5",
  earlyDiscount: "2",
  earlyDiscountDays: "10",
  shipping: "7,90",
  leastOrder: "30",
  leastUnits: "24",
  taxGroup: "1",
  priceList: "1",
};
const cases = () => ({ caseShape: [String(ball), String(heart)], caseUnits: ["6", ""] });

describe("the terms of a customer", () => {
  it("are kept to the cent and the hundredth of a per cent", async () => {
    expect((await owner.post("/setup/customers", { ...otter, ...cases() })).statusCode).toBe(303);
    const [row] = await application.database.sql`select * from customers`;
    expect(row).toMatchObject({
      takes_by: "parcel",
      transit_days: 2,
      net_days: 30,
      order_discount_basis_points: 250,
      early_discount_basis_points: 200,
      early_discount_days: 10,
      shipping_minor: "790",
      least_order_minor: "3000",
      least_order_units: 24,
      tax_group_id: 1,
      price_list_id: 1,
    });
    const contacts = await application.database
      .sql`select name, role, email from customer_contacts order by id`;
    expect(contacts.map(({ name }) => name)).toEqual(["Odile Marsh", "Perpetua Quill"]);
    const packs = await application.database.sql`select shape_id, units from case_packs`;
    expect(packs).toMatchObject([{ shape_id: ball, units: 6 }]);
  });

  it("stand in the form as they were typed, and sending them again changes nothing", async () => {
    const page = (await owner.get("/setup/customers/1")).body;
    for (const value of ["2.5", "7.90", "30.00", "quill@otter.example"])
      expect(page).toContain(`value="${value}"`);
    const before = await changesOf(application, "customer");
    const again = { ...otter, contactName: ["Odile Marsh", "Perpetua Quill"], contactRole: ["orders", ""] };
    const lists = { phone: ["555 0101", ""], email: ["odile@otter.example", "quill@otter.example"] };
    await owner.post("/setup/customers/1", { ...again, ...lists, ...cases() });
    expect(await changesOf(application, "customer")).toEqual(before);
  });

  it("lose a contact and a case that were taken out, with both in the history", async () => {
    await owner.post("/setup/customers/1", {
      ...otter,
      contactName: "Odile Marsh",
      contactRole: "",
      phone: "",
      email: "",
      ...cases(),
      caseUnits: ["", "12"],
    });
    expect((await changesOf(application, "customer")).at(-1)).toMatchObject({
      before: {
        contacts: [{ name: "Odile Marsh", role: "orders" }, { name: "Perpetua Quill" }],
        casePacks: [{ units: 6 }],
      },
      after: { contacts: [{ name: "Odile Marsh", role: "" }], casePacks: [{ shapeId: heart, units: 12 }] },
    });
  });

  it("stand in the list by the first contact of each", async () => {
    const { db } = application.database;
    await insertCustomer(db, { name: "A Customer Without Contacts" });
    const customerId = await insertCustomer(db, { name: "Heron & Thimble" });
    await insertContact(db, { customerId, name: "Hob Nettlewick", phone: "555 0199" });
    await insertContact(db, { customerId, name: "Somebody Else" });
    const page = (await owner.get("/setup/customers")).body;
    expect(page.match(/data-label="Contact">[^<]+/g)).toEqual([
      'data-label="Contact">–',
      'data-label="Contact">Hob Nettlewick, 555 0199',
      'data-label="Contact">Odile Marsh',
    ]);
  });

  it("are answered beside their fields where they cannot be", async () => {
    const answer = await owner.post("/setup/customers/1", {
      ...otter,
      ...cases(),
      transitDays: "31",
      netDays: "-1",
      orderDiscount: "101",
      shipping: "1.234",
      leastOrder: "0",
      leastUnits: "0",
      caseUnits: ["x", ""],
      contactName: "",
      contactRole: "orders",
      phone: "",
      email: "",
    });
    expect(answer.statusCode).toBe(422);
    for (const [field, words] of [
      ["transitDays", "from 0 to 30"],
      ["netDays", "from 0 to 365"],
      ["orderDiscount", "from 0 to 100"],
      ["shipping", "read in two ways"],
      ["leastOrder", "from €0.01"],
      ["leastUnits", "from 1 to"],
      ["casePacks.0.units", "from 1 to 10"],
      ["contacts.0.name", "Say who that is"],
    ] as const)
      expect(mistakeBeside(answer, field), field).toContain(words);
  });

  it("have to go together", async () => {
    const round = await owner.post("/setup/customers/1", { ...otter, takesBy: "local-round" });
    expect(mistakeBeside(round, "transitDays")).toContain("Only a parcel");
    const half = await owner.post("/setup/customers/1", { ...otter, earlyDiscountDays: "" });
    expect(mistakeBeside(half, "earlyDiscountDays")).toContain("needs both");
    const late = await owner.post("/setup/customers/1", { ...otter, earlyDiscountDays: "31" });
    expect(mistakeBeside(late, "earlyDiscountDays")).toContain("before the last day");
    const { sql } = application.database;
    await expect(sql`update customers set takes_by = 'collected'`).rejects.toMatchObject({
      constraint_name: "customers_transit_days",
    });
    await expect(sql`update customers set early_discount_days = 0`).rejects.toMatchObject({
      constraint_name: "customers_early_discount",
    });
  });

  it("speak of lists, groups and shapes that are there", async () => {
    const group = await owner.post("/setup/customers/1", { ...otter, taxGroup: "99" });
    expect([group.statusCode, mistakeBeside(group, "taxGroup")]).toEqual([
      422,
      "Choose a tax group that is in use.",
    ]);
    const list = await owner.post("/setup/customers/1", { ...otter, priceList: "99" });
    expect(mistakeBeside(list, "priceList")).toBe("Choose a price list that is in use.");
    const shape = await owner.post("/setup/customers/1", { ...otter, caseShape: "99", caseUnits: "6" });
    expect(mistakeBeside(shape, "casePacks")).toContain("not there");
  });
});
