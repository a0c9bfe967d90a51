import type { TransactionSql } from "postgres";
import { beforeAll, describe, expect, it } from "vitest";
import { recipeParts, recipes } from "../../db/schema/recipes.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertBlend,
  insertPerson,
  insertPlan,
  insertProduct,
  insertReadyLot,
  insertRun,
  insertShape,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { overlapping } from "../db/overlapping.ts";
import { changesOf, helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { readPdf } from "./readPdf.ts";

const application = useApplication();
let owner: Visitor;
let helper: Visitor;
let productId: number;
let otherId: number;
let lotId: number;

const makerFields = (given: Readonly<Record<string, string>> = {}) => ({
  ...{ market: "eu", makerName: "Tidepool & Thimble", makerPlace: "1 Sandbar Lane, Lower Brackish" },
  ...{ contact: "tidepool@halfmold.example", gs1Prefix: "" },
  ...given,
});

/** Two by two labels of 95 x 65 mm on A4. */
const sheetFields = (given: Readonly<Record<string, string>> = {}) => ({
  ...{ name: "Large", unit: "mm", paperWidth: "210", paperHeight: "297", columns: "2", rows: "2" },
  ...{ labelWidth: "95", labelHeight: "65", marginLeft: "9", marginTop: "10", gapAcross: "2", gapDown: "2" },
  ...given,
});

const sheetNamed = async (name: string) => {
  const [row] = await application.database.sql`select * from label_sheets where name = ${name}`;
  return row;
};

beforeAll(async () => {
  owner = await ownerInSetup(application);
  helper = await helperOf(application, owner);
  const { db } = application.database;
  const blendId = await insertBlend(db, { code: "cedar", name: "Cedar" });
  const shapeId = await insertShape(db, { code: "ball", pieceMilligrams: 125_000 });
  productId = await insertProduct(db, { blendId, shapeId, code: "cedar/ball", name: "Cedar ball" });
  otherId = await insertProduct(db, { code: "oat/puck", name: "Oat puck" });
  const given = await db
    .insert(supplies)
    .values([
      { name: "Soda of the shore", kind: "soda", labelName: "Sodium Bicarbonate" },
      { name: "Acid", kind: "acid", labelName: "Citric Acid" },
      { name: "Alcohol", kind: "alcohol", labelName: "Isopropyl Alcohol", evaporatesBasisPoints: 10_000 },
    ])
    .returning({ id: supplies.id });
  const [soda, acid, alcohol] = given.map(({ id }) => id);
  // The first version is dry at 96 %: 120 g of 125 g; the second, from the next day on, at 90 %: 112.5 g.
  for (const [version, validFrom, shares] of [
    [1, "2027-01-01", [640_000, 320_000, 40_000]],
    [2, "2027-03-02", [600_000, 300_000, 100_000]],
  ] as const) {
    await db.transaction(async (transaction) => {
      const [recipe] = await transaction
        .insert(recipes)
        .values({ blendId, version, validFrom, category: "9", createdAt: new Date("2027-01-01T08:00:00Z") })
        .returning({ id: recipes.id });
      await transaction.insert(recipeParts).values(
        [soda, acid, alcohol].map((supplyId, place) => ({
          ...{ recipeId: recipe?.id ?? 0, place, supplyId: supplyId ?? 0 },
          phase: (["dry", "acid", "liquid"] as const)[place] ?? "dry",
          milligramsPerKilogram: shares[place] ?? 0,
          ...{ thousandths: 1000, unit: "g" as const },
        })),
      );
    });
  }
  lotId = await insertReadyLot(db, { productId, units: 7, code: "K7QF" });
});

describe("a sheet of labels", () => {
  it("is kept in whole micrometres, whether it was measured in millimetres or inches", async () => {
    expect(ledTo(await owner.post("/setup/labels/sheets", sheetFields()))).toEqual([303, "/setup/labels"]);
    expect(await sheetNamed("Large")).toMatchObject({
      label_width_micrometres: 95_000,
      gap_down_micrometres: 2000,
    });
    const inches = sheetFields({
      ...{ name: "Squares", unit: "in", paperWidth: "8.5", paperHeight: "11", columns: "4", rows: "6" },
      ...{
        labelWidth: "1.5",
        labelHeight: "1,5",
        marginLeft: "1.1",
        marginTop: "0.75",
        gapAcross: "0.08",
        gapDown: "0.08",
      },
    });
    expect(ledTo(await owner.post("/setup/labels/sheets", inches))).toEqual([303, "/setup/labels"]);
    expect(await sheetNamed("Squares")).toMatchObject({
      ...{ paper_width_micrometres: 215_900, label_width_micrometres: 38_100, gap_across_micrometres: 2032 },
    });
  });

  it("that does not lie on its paper is refused beside the field, in its own unit", async () => {
    // 9 + 2 * 95 + 12 = 211.
    const wide = await owner.post("/setup/labels/sheets", sheetFields({ name: "Wide", gapAcross: "12" }));
    expect(wide.statusCode).toBe(422);
    expect(mistakeBeside(wide, "columns")).toContain("The last column stands 1 mm over the paper");
    expect(wide.body).toMatch(/name="gapAcross"[^>]*value="12"/);
    const high = sheetFields({ name: "High", rows: "5" });
    // 10 + 5 * 65 + 4 * 2 = 343.
    expect(mistakeBeside(await owner.post("/setup/labels/sheets", high), "rows")).toContain(
      "stands 46 mm over",
    );
    const tiny = sheetFields({ name: "Tiny", labelWidth: "9.99" });
    expect(mistakeBeside(await owner.post("/setup/labels/sheets", tiny), "labelWidth")).toContain(
      "at least 10 mm",
    );
    expect(await sheetNamed("Wide")).toBeUndefined();
  });

  it("is offered by its dimensions, and lies on its paper as it is offered", async () => {
    const setup = await owner.get("/setup/labels");
    const sizes = [...setup.body.matchAll(/sheets\/new\?size=(\d+)">([^<]+)</g)];
    expect(sizes.map(([, , words]) => words)).toEqual(
      expect.arrayContaining(["1.5 × 1.5 in", "2.5 in round", "40 × 40 mm"]),
    );
    for (const [, size] of sizes) {
      const form = await owner.get(`/setup/labels/sheets/new?size=${size}`);
      const typed = Object.fromEntries(
        [...form.body.matchAll(/<input[^>]* name="([a-z]\w+)"[^>]*? value="([^"]+)"/g)]
          .filter(([field, name]) => name !== "form_token" && !/checkbox/.test(field))
          .map(([, name, value]) => [name, value]),
      );
      const unit = /value="in" selected/.test(form.body) ? "in" : "mm";
      const sent = await owner.post("/setup/labels/sheets", { ...typed, unit, name: `Offer ${size}` });
      expect(ledTo(sent), textOf(sent.body)).toEqual([303, "/setup/labels"]);
    }
    await application.database.sql`delete from label_sheets where name like 'Offer %'`;
  });

  it("is changed, retired and brought back, and keeps a name of its own", async () => {
    const { id } = (await sheetNamed("Squares")) ?? {};
    const taken = await owner.post(`/setup/labels/sheets/${id}`, sheetFields({ name: "large" }));
    expect(mistakeBeside(taken, "name")).toContain("Another sheet has this name");
    expect(ledTo(await owner.post(`/setup/labels/sheets/${id}/retirement`, {}))).toEqual([
      303,
      "/setup/labels",
    ]);
    expect((await helper.get(`/labels/lots/${lotId}`)).body).not.toContain("Squares");
    await owner.post(`/setup/labels/sheets/${id}/return`, {});
    expect((await helper.get(`/labels/lots/${lotId}`)).body).toContain("Squares");
  });
});

describe("who stands on the labels", () => {
  it("is said once, and every change is written down", async () => {
    expect(ledTo(await owner.post("/setup/labels", makerFields()))).toEqual([303, "/setup/labels"]);
    await owner.post("/setup/labels", makerFields());
    await owner.post("/setup/labels", makerFields({ market: "us", adultsOnly: "yes" }));
    await owner.post("/setup/labels", makerFields());
    const changes = await changesOf(application, "labels");
    expect(changes.map(({ what, after }) => [what, after?.market])).toEqual([
      ["set up", "eu"],
      ["changed", "us"],
      ["changed", "eu"],
    ]);
    const odd = await owner.post("/setup/labels", makerFields({ gs1Prefix: "12345" }));
    expect(mistakeBeside(odd, "gs1Prefix")).toContain("6 to 11 digits");
  });

  it("said by two at once for the first time is said by one after the other", async () => {
    await application.database.sql`delete from label_maker`;
    const answers = await overlapping(application.database.sql, lockLabelMaker, [
      () => owner.post("/setup/labels", makerFields({ makerName: "One" })),
      () => owner.post("/setup/labels", makerFields({ makerName: "Other" })),
    ]);
    expect(answers.map(ledTo)).toEqual([
      [303, "/setup/labels"],
      [303, "/setup/labels"],
    ]);
    const changes = await changesOf(application, "labels");
    expect(changes.slice(-2).map(({ what }) => what)).toEqual(["set up", "changed"]);
    await owner.post("/setup/labels", makerFields());
  });
});

const lockLabelMaker = (gate: TransactionSql) => gate`lock table label_maker in share row exclusive mode`;

describe("what a product's label declares", () => {
  const declare = (given: Readonly<Record<string, string>>, of = productId) =>
    owner.post(`/setup/products/${of}/label`, {
      ...{ declaredGrams: "", gs1Number: "", durabilityMonths: "" },
      ...given,
    });

  it("is never above the dry weight by the recipe that holds", async () => {
    // 125 g of mix at 96 % are 120 g.
    const page = await owner.get(`/setup/products/${productId}/label`);
    expect(headingOf(page.body)).toBe("Labels of Cedar ball may declare up to 120 g (4.23 oz).");
    expect(mistakeBeside(await declare({ declaredGrams: "120.1" }), "declaredGrams")).toBe(
      "A piece weighs 120 g when it is dry; a label never declares more.",
    );
    expect(ledTo(await declare({ declaredGrams: "120" }))).toEqual([303, `/setup/products/${productId}`]);
    expect(ledTo(await declare({}))).toEqual([303, `/setup/products/${productId}`]);
    expect(mistakeBeside(await declare({ declaredGrams: "50" }, otherId), "declaredGrams")).toContain(
      "has no recipe yet",
    );
  });

  it("may have a number under the shop's own prefix only, and no other product has it", async () => {
    expect(mistakeBeside(await declare({ gs1Number: "7" }), "gs1Number")).toContain(
      "no GS1 company prefix yet",
    );
    await owner.post("/setup/labels", makerFields({ gs1Prefix: "730 001 100" }));
    expect(mistakeBeside(await declare({ gs1Number: "1000" }), "gs1Number")).toContain("from 0 to 999.");
    expect(ledTo(await declare({ gs1Number: "7" }))).toEqual([303, `/setup/products/${productId}`]);
    expect(mistakeBeside(await declare({ gs1Number: "7" }, otherId), "gs1Number")).toBe(
      "Cedar ball has this number already.",
    );
    const away = await owner.post("/setup/labels", makerFields());
    expect(mistakeBeside(away, "gs1Prefix")).toContain("Cedar ball has the number 7");
    await declare({});
  });

  it("says how many months it keeps, which is kept with everything else of it", async () => {
    expect(mistakeBeside(await declare({ durabilityMonths: "0" }), "durabilityMonths")).toBe(
      "Give a whole number from 1 to 120.",
    );
    expect(ledTo(await declare({ durabilityMonths: "9" }))).toEqual([303, `/setup/products/${productId}`]);
    const page = await owner.get(`/setup/products/${productId}/label`);
    expect(page.body).toMatch(/name="durabilityMonths"[^>]*value="9"/);
    const [change] = (await changesOf(application, "product")).slice(-1);
    expect([change?.before, change?.after]).toMatchObject([
      { durabilityMonths: null },
      { durabilityMonths: 9 },
    ]);
    await declare({});
  });

  it("is given one number where two want it at once", async () => {
    const answers = await overlapping(application.database.sql, lockLabelMaker, [
      () => declare({ gs1Number: "12" }),
      () => declare({ gs1Number: "12" }, otherId),
    ]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 422]);
    await declare({});
    await declare({}, otherId);
  });
});

describe("the labels of a lot", () => {
  const page = (query = "") => helper.get(`/labels/lots/${lotId}${query}`);
  const pdf = (query = "") => helper.get(`/labels/lots/${lotId}/labels.pdf${query}`);
  const sheetId = async (name: string) => String((await sheetNamed(name))?.id);

  it("are as many as it has pieces, and a helper prints them", async () => {
    const looked = textOf((await page()).body);
    expect(looked).toContain("Cedar ball, lot K7QF, 7 pieces, by version 1 of the recipe.");
    expect(looked).toContain("This is a help, not legal advice.");
    const answer = await pdf();
    expect([answer.statusCode, answer.headers["content-type"]]).toEqual([200, "application/pdf"]);
    const pages = await readPdf(answer.rawPayload);
    expect(pages.map(({ words }) => words.filter((one) => one.words === "Lot K7QF").length)).toEqual([4, 3]);
    const said = pages[0]?.words.map(({ words }) => words) ?? [];
    expect(said).toEqual(expect.arrayContaining(["Cedar ball", "Net weight 120 g (4.23 oz)"]));
    expect(said.join(" ")).toContain("Ingredients: Sodium Bicarbonate, Citric Acid, Isopropyl Alcohol.");
  });

  it("begin and end where the packer says", async () => {
    const pages = await readPdf((await pdf("?first=4&count=2")).rawPayload);
    expect(pages.map(({ words }) => words.filter((one) => one.words === "Cedar ball").length)).toEqual([
      1, 1,
    ]);
  });

  it("say by when they are best used, from the day somebody says where no run made them", async () => {
    const { sql } = application.database;
    expect(textOf((await page()).body)).toContain("Nobody has said how many months it keeps");
    await sql`update products set durability_months = 12 where id = ${productId}`;
    const unknown = await page();
    expect(textOf(unknown.body)).toContain("but nobody knows from which day");
    expect(unknown.body).toContain('name="madeOn"');
    expect(mistakeBeside(await page("?madeOn=2027-02-30"), "madeOn")).toContain(
      "Give a date of the calendar",
    );
    const said = textOf((await page("?madeOn=2027-02-27")).body);
    expect(said).toContain("over 12 months after Saturday 27 February 2027, as the owner stated");
    const [printed] = await readPdf((await pdf("?madeOn=2027-02-27&count=1")).rawPayload);
    expect(printed?.words.map(({ words }) => words)).toContain("Best used before the end of January 2028");
    const small = await page(`?madeOn=2027-02-27&side=all&sheet=${await sheetId("Squares")}`);
    expect(small.body).toContain(`?sheet=${await sheetId("Large")}&amp;side=all&amp;madeOn=2027-02-27`);
  });

  it("that do not fit say so before anything is printed, with what would hold them", async () => {
    const small = `?sheet=${await sheetId("Squares")}&side=all`;
    const looked = await page(small);
    expect(headingOf(looked.body)).toBe("The label does not fit 38.1 × 38.1 mm.");
    expect(textOf(looked.body)).toMatch(/the words are [\d.]+ mm too high/);
    expect(looked.body).toContain(`?sheet=${await sheetId("Squares")}&amp;side=front`);
    expect(looked.body).toContain(`?sheet=${await sheetId("Large")}&amp;side=all`);
    const refused = await pdf(small);
    expect([refused.statusCode, headingOf(refused.body)]).toEqual([
      409,
      "The label does not fit 38.1 × 38.1 mm.",
    ]);
    expect((await pdf(`?sheet=${await sheetId("Squares")}&side=front`)).statusCode).toBe(200);
  });

  it("answer what cannot be asked beside the field", async () => {
    const wrong = await page("?first=5&count=0");
    expect([wrong.statusCode, mistakeBeside(wrong, "count")]).toEqual([
      422,
      "Give a whole number from 1 to 2\u202f000.",
    ]);
    const beyond = await pdf(`?first=5&sheet=${await sheetId("Large")}`);
    expect([beyond.statusCode, mistakeBeside(beyond, "first")]).toEqual([
      409,
      "The sheet has the labels 1 to 4.",
    ]);
    expect((await page("?sheet=999")).statusCode).toBe(409);
    expect((await helper.get("/labels/lots/999")).statusCode).toBe(404);
    expect((await helper.get("/labels/products/999/labels.pdf")).statusCode).toBe(404);
  });

  it("name the allergens that suppliers state, behind the ingredients, and say of which scent nobody knows", async () => {
    const { sql } = application.database;
    const words = async () => textOf((await page()).body);
    await sql`update supplies set kind = 'scent' where name = 'Acid'`;
    expect(await words()).toContain("No statement of listed allergens is entered for Acid");
    await sql`update supplies set allergen_source = 'paper 3' where name = 'Acid'`;
    await sql`insert into listed_allergens select id, 'Linalool', 20000 from supplies where name = 'Acid'`;
    expect(await words()).toContain("Isopropyl Alcohol, Linalool.");
    expect(await words()).toContain("stand among the ingredients: Linalool.");
    expect(await words()).not.toContain("No statement of listed allergens");
    await sql`delete from listed_allergens`;
    expect(await words()).toContain("No allergen that suppliers' statements list is above");
    await sql`update supplies set kind = 'acid', allergen_source = '' where name = 'Acid'`;
  });

  it("are from the version its run was started by, whatever holds by now", async () => {
    application.clock.set("2027-03-02T08:00:00Z");
    const { db, sql } = application.database;
    const [recipe] = await sql`select min(id)::integer as first, max(id)::integer as last from recipes`;
    const planId = await insertPlan(db, { personId: await insertPerson(db, { name: "Moss Underhill" }) });
    const [product] = await sql`select blend_id from products where id = ${productId}`;
    const run = await insertRun(db, {
      ...{ planId, blendId: Number(product?.blend_id), state: "mixing", recipeId: Number(recipe?.first) },
      ...{ sessionDate: "2027-03-02", startedAt: new Date("2027-03-02T08:00:00Z") },
      lots: [{ productId, units: 5, code: "RUN1" }],
    });
    const ofRun = textOf((await helper.get(`/labels/lots/${run.lotIds[0]}`)).body);
    expect(ofRun).toContain("lot RUN1, 5 pieces, by version 1 of the recipe.");
    expect(ofRun).toContain("Net weight 120 g (4.23 oz)");
    // Made on 2 March, whatever anybody says: twelve months are not over at the end of the next March.
    const date = textOf((await helper.get(`/labels/lots/${run.lotIds[0]}?madeOn=2020-01-01`)).body);
    expect(date).toContain("Best used before the end of February 2028");
    expect(date).not.toContain("Made on");
    // Without a lot the version of the day: 125 g at 90 % are 112.5 g, and 3.9683 oz.
    const ofProduct = textOf((await helper.get(`/labels/products/${productId}`)).body);
    expect(ofProduct).toContain("by version 2 of the recipe, for no lot.");
    expect(ofProduct).toContain("Net weight 112 g (3.96 oz)");
    await sql`update runs set recipe_id = null where id = ${run.runId}`;
    expect(textOf((await helper.get(`/labels/lots/${run.lotIds[0]}`)).body)).toContain("There is no recipe");
    application.clock.set("2027-03-01T08:00:00Z");
  });
});
