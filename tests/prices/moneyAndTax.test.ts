import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertCustomer, insertProduct } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
let cedar: number;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  cedar = await insertProduct(application.database.db);
});

const settings = {
  currency: "EUR",
  rounding: "line",
  usualTaxGroup: "",
  makingCost: "40",
  leftoverLoss: "50",
};

describe("money", () => {
  it("is in euro and rounded by line until it is said otherwise", async () => {
    const page = await owner.get("/setup/money");
    expect(page.body).toContain(
      "<h1>Money is counted in Euro (EUR) and rounded line by line, a half upwards.</h1>",
    );
  });

  it("is counted in any currency of ISO 4217, with its own decimals", async () => {
    await owner.post("/setup/money", { ...settings, currency: "KWD", rounding: "order", makingCost: "37.5" });
    expect((await owner.get("/setup/money")).body).toContain(
      "Kuwaiti Dinar (KWD) and rounded order by order",
    );
    const [row] = await application.database.sql`select making_cost_basis_points from workshop`;
    expect(row?.making_cost_basis_points).toBe(3750);
    const answer = await owner.post("/setup/money", { ...settings, currency: "XAU", makingCost: "100.01" });
    expect(mistakeBeside(answer, "currency")).toContain("Choose a currency");
    expect(mistakeBeside(answer, "makingCost")).toContain("from 0 to 100");
    await owner.post("/setup/costs", { product: [String(cedar)], was: [""], price: ["0.125"] });
    const [product] = await application.database.sql`select making_cost_minor from products`;
    expect(product?.making_cost_minor).toBe("125");
  });

  it("keeps its currency once there is an amount in it, in the form and in the table", async () => {
    const answer = await owner.post("/setup/money", settings);
    expect([answer.statusCode, mistakeBeside(answer, "currency")]).toEqual([
      409,
      "There are amounts in the currency already: they would become other money. It stays as it is.",
    ]);
    await expect(application.database.sql`update workshop set currency = 'EUR'`).rejects.toMatchObject({
      constraint_name: "workshop_keeps_its_currency",
    });
    await owner.post("/setup/costs", { product: [String(cedar)], was: ["0.125"], price: [""] });
    expect((await owner.post("/setup/money", settings)).statusCode).toBe(303);
    expect((await changesOf(application, "money")).map(({ what }) => what)).toEqual(["changed", "changed"]);
  });

  it("refuses an amount that was typed in another currency than there is now", async () => {
    const { sql } = application.database;
    // The form below was read in euro; before it is carried out the currency becomes the yen.
    await sql`create function in_yen() returns trigger language plpgsql as $$ begin
      update workshop set currency = 'JPY'; return new; end $$`;
    await sql`create trigger in_yen before insert on form_receipts for each row execute function in_yen()`;
    const answer = await owner.post("/setup/costs", { product: [String(cedar)], was: [""], price: ["1.25"] });
    await sql`drop trigger in_yen on form_receipts`;
    expect([answer.statusCode, answer.body.includes("currency has changed")]).toEqual([409, true]);
    expect((await sql`select making_cost_minor from products`)[0]?.making_cost_minor).toBeNull();
  });
});

describe("a tax group", () => {
  it("has a rate from a date on, exact to a ten-thousandth of a per cent", async () => {
    expect(
      ledTo(await owner.post("/setup/taxes", { name: "At home", rate: "8,875", validFrom: "2027-01-01" })),
    ).toEqual([303, "/setup/taxes/1"]);
    expect((await owner.get("/setup/taxes/1")).body).toContain("<h1>At home: 8.875\u202f% today.</h1>");
    await owner.post("/setup/taxes/1/rates", { rate: "9", validFrom: "2027-04-01" });
    const page = (await owner.get("/setup/taxes/1")).body;
    expect(page).toContain("<h1>At home: 8.875\u202f% today.</h1>");
    expect(page).toContain("9\u202f% from Thursday 1 April 2027");
  });

  it("has one rate a day: the same day given again is corrected", async () => {
    await owner.post("/setup/taxes/1/rates", { rate: "9.5", validFrom: "2027-04-01" });
    const rates = await application.database
      .sql`select valid_from::text, rate_ppm from tax_rates order by valid_from`;
    expect(rates.map(({ valid_from, rate_ppm }) => [valid_from, rate_ppm])).toEqual([
      ["2027-01-01", 88_750],
      ["2027-04-01", 95_000],
    ]);
    const answer = await owner.post("/setup/taxes/1/rates", { rate: "100.0001", validFrom: "soon" });
    expect(mistakeBeside(answer, "rate")).toContain("at most 4 decimals");
    expect(mistakeBeside(answer, "validFrom")).toContain("date of the calendar");
  });

  it("becomes the usual one by name, and is not retired while it is", async () => {
    await owner.post("/setup/money", { ...settings, currency: "JPY", usualTaxGroup: "1" });
    expect((await owner.get("/setup/taxes")).body).toContain(
      "Usually 8.875\u202f% is charged, as for “At home”.",
    );
    expect((await owner.post("/setup/taxes/1/retirement", {})).statusCode).toBe(409);
    await owner.post("/setup/money", { ...settings, currency: "JPY" });
    const customerId = await insertCustomer(application.database.db, { taxGroupId: 1 });
    expect((await owner.post("/setup/taxes/1/retirement", {})).statusCode).toBe(409);
    await application.database.sql`update customers set tax_group_id = null where id = ${customerId}`;
    expect((await owner.post("/setup/taxes/1/retirement", {})).statusCode).toBe(303);
    const answer = await owner.post("/setup/money", { ...settings, currency: "JPY", usualTaxGroup: "1" });
    expect(mistakeBeside(answer, "usualTaxGroup")).toContain("in use");
  });
});

describe("the usual cases", () => {
  it("are set for all shapes at once and taken away with a blank", async () => {
    const [shape] = await application.database.sql`select id from shapes`;
    const send = (units: string) =>
      owner.post("/setup/cases", { caseShape: String(shape?.id), caseUnits: units });
    await send("12");
    expect((await owner.get("/setup/cases")).body).toContain("<h1>Sold in cases: ball-60 by 12 pieces.</h1>");
    expect(mistakeBeside(await send("0"), "cases.0.units")).toContain("from 1 to 10");
    await send("");
    expect((await owner.get("/setup/cases")).body).toContain("<h1>Everything is sold singly.</h1>");
    expect((await changesOf(application, "shape")).map(({ after }) => after)).toEqual([
      { caseUnits: 12 },
      { caseUnits: null },
    ]);
  });
});
