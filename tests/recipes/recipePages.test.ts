import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertBlend, insertPlan, insertProduct, insertRun } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { overlapping } from "../db/overlapping.ts";
import { changesOf, helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { recipeFields, stockedKitchen } from "./kitchen.ts";

const application = useApplication();
let owner: Visitor;
let helper: Visitor;
let blendId: number;
let productId: number;
let address: string;
let stock: Awaited<ReturnType<typeof stockedKitchen>>;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  helper = await helperOf(application, owner);
  stock = await stockedKitchen(application, owner);
  const { db } = application.database;
  blendId = await insertBlend(db, { code: "cedar", name: "Cedar" });
  productId = await insertProduct(db, { blendId, code: "cedar/ball-60" });
  address = `/recipes/${blendId}`;
});

/** 936 g that stay and 64 g of alcohol; the scent is 28 / 936 = 2.9915 % of the dry piece. */
const first = () =>
  recipeFields([
    [stock.acid, "290"],
    [stock.soda, "588"],
    [stock.almond, "30"],
    ["", ""],
    [stock.cedar, "28"],
    [stock.alcohol, "64"],
  ]);

describe("writing a recipe", () => {
  it("says what is missing, or what is too much, before anything is kept", async () => {
    const short = await owner.post(
      address,
      recipeFields([
        [stock.soda, "588"],
        [stock.acid, "290.5"],
      ]),
    );
    expect([short.statusCode, mistakeBeside(short, "parts")]).toEqual([
      422,
      "121.5 g are missing from a kilogram of mix. Or leave “written for” blank: the parts are then the whole.",
    ]);
    const over = await owner.post(
      address,
      recipeFields([
        [stock.soda, "800"],
        [stock.acid, "290"],
      ]),
    );
    expect(mistakeBeside(over, "parts")).toContain("90 g are too much for a kilogram of mix.");
    expect(over.body).toMatch(/name="partAmount"[^>]*value="290"/);
  });

  it("answers each wrong row beside it", async () => {
    const spoon = await owner.post(
      address,
      recipeFields([
        ["", ""],
        [stock.soda, "2", "tsp"],
      ]),
    );
    expect(mistakeBeside(spoon, "parts.1.amount")).toContain("No density has been entered for it");
    const odd = await owner.post(
      address,
      recipeFields([
        ["", "2"],
        [stock.soda, "a pinch"],
      ]),
    );
    expect(mistakeBeside(odd, "parts.0.supply")).toBe("Choose an ingredient.");
    expect(mistakeBeside(odd, "parts.1.amount")).toContain("Give a number");
    const twice = await owner.post(
      address,
      recipeFields([
        [stock.soda, "500"],
        [stock.soda, "500"],
      ]),
    );
    expect(mistakeBeside(twice, "parts.1.supply")).toContain("in the same step above already");
    const empty = await owner.post(address, recipeFields([["", ""]]));
    expect(mistakeBeside(empty, "parts")).toContain("Nothing goes into the bowl yet");
  });

  it("refuses more of a scent oil than its supplier allows, by the dry weight, with the reason", async () => {
    // 28.1 g in a mix of 1000 g of which 936 g stay: 3.0022 %; of the wet mix it would be 2.81 %.
    const above = await owner.post(
      address,
      recipeFields([
        [stock.soda, "587.9"],
        [stock.acid, "320"],
        [stock.cedar, "28.1"],
        [stock.alcohol, "64"],
      ]),
    );
    expect([above.statusCode, mistakeBeside(above, "parts.2.amount")]).toEqual([
      422,
      "Cedar shed oil would be 3.01\u202f% of the dry piece; its supplier allows at most 3\u202f% (invented certificate 7). Take less of it.",
    ]);
    expect(await application.database.sql`select 1 from recipes`).toHaveLength(0);
  });

  it("shows what it adds up to, and one more row, without keeping anything", async () => {
    const reckoned = await owner.post(address, { ...first(), save: "reckon" });
    expect(reckoned.statusCode).toBe(200);
    expect(textOf(reckoned.body)).toContain("It adds up: a kilogram of mix dries to 936 g.");
    const foggy = recipeFields([
      [stock.soda, "98", "percent"],
      [stock.fog, "2", "percent"],
    ]);
    expect(textOf((await owner.post(address, { ...foggy, save: "reckon" })).body)).toContain(
      "No limit has been entered for Fog oil in this category",
    );
    const longer = await owner.post(address, { ...first(), save: "one-more-part" });
    expect(longer.body.match(/name="partAmount"/g)).toHaveLength(7);
    expect(await application.database.sql`select 1 from recipes`).toHaveLength(0);
  });

  it("keeps it as version 1, each part in whole milligrams of a kilogram, in its usual step", async () => {
    expect(ledTo(await owner.post(address, first()))).toEqual([303, `${address}?version=1`]);
    const parts = await application.database.sql`
      select place, phase, milligrams_per_kilogram as milligrams from recipe_parts order by place`;
    expect(parts.map(({ phase, milligrams }) => `${phase} ${milligrams}`)).toEqual([
      "acid 290000",
      "dry 588000",
      "liquid 30000",
      "liquid 28000",
      "liquid 64000",
    ]);
    expect((await changesOf(application, "recipe")).map(({ what }) => what)).toEqual(["written"]);
  });
});

describe("a recipe's page", () => {
  it("is weighed out for a full bowl, step by step, the acid last", async () => {
    const page = await helper.get(address);
    // The workshop's bowl holds 2.6 kg.
    expect(headingOf(page.body)).toBe("Cedar: weigh 2 600 g from 5 parts.");
    const words = textOf(page.body);
    // 2.6 times 588 is 1528.8 g: on a scale of whole grams it gets one of the two grams that are left over.
    expect(words).toMatch(/Dry ☐ Soda of the shore 588 g a kilogram 1 529 g/);
    expect(words.indexOf("Acid, last and slowly")).toBeGreaterThan(words.indexOf("Liquid"));
    // 118 g of mix at 93.6 % are 110.448 g; 3.8959 oz, said as no more than 3.89 oz.
    expect(words).toContain("at most 110.4 g, 3.89 oz");
    expect(words).toContain(
      "Cedar shed oil is 3 % of the dry piece; its supplier allows at most 3 % in category 9",
    );
    expect(words).toContain("Strong alcohol burns");
    expect(words).toContain("Local rules and qualified advice come first.");
    expect(words).not.toContain("foam with a surfactant");
  });

  it("is weighed out for any weight in any unit, and the weights add up", async () => {
    const page = await helper.get(`${address}?for=6.2&unit=kg&scale=100`);
    const weights = [...page.body.matchAll(/class="number weight">([\d\u202f.]+) g/g)].map((match) =>
      Number(match[1]?.replaceAll("\u202f", "")),
    );
    // 6.2 times 588, 30, 28, 64 and 290 g.
    expect(weights).toEqual([3645.6, 186, 173.6, 396.8, 1798]);
    const ounces = await helper.get(`${address}?for=8&unit=lb&scale=1000`);
    // 8 lb are 3628.74 g; on a scale of whole grams 3629 g.
    expect(headingOf(ounces.body)).toContain("weigh 3 629 g");
    expect(textOf(ounces.body)).toContain("3 629 g of mix, 128.01 oz");
  });

  it("says which part is too little for the scale", async () => {
    const page = await helper.get(`${address}?for=20&unit=g&scale=5000`);
    expect(page.body).toContain("weigh finer");
  });

  it("answers a wrong weight beside its field", async () => {
    const page = await helper.get(`${address}?for=plenty&unit=kg&scale=1000`);
    expect([page.statusCode, mistakeBeside(page, "for")]).toEqual([
      422,
      expect.stringContaining("Give a number"),
    ]);
    expect((await helper.get("/recipes/99")).statusCode).toBe(404);
    expect((await helper.get(`${address}?version=7`)).statusCode).toBe(404);
  });

  it("is read by helpers and written by the owner alone", async () => {
    expect((await helper.get(`${address}/new`)).statusCode).toBe(403);
    expect((await helper.post(address, first(), { from: "/bench" })).statusCode).toBe(403);
    expect((await helper.get(address)).body).not.toContain("Write a new version");
    expect((await helper.get("/recipes")).body).toContain("Every blend has its recipe.");
  });
});

describe("a new version", () => {
  it("holds from its date on and leaves the one before as it is", async () => {
    const form = await owner.get(`${address}/new`);
    expect(form.body).toMatch(/name="partAmount"[^>]*value="588"/);
    const less = recipeFields(
      [
        [stock.soda, "600"],
        [stock.acid, "300"],
        [stock.fog, "40"],
        [stock.alcohol, "60"],
      ],
      { validFrom: "2027-03-08" },
    );
    expect(ledTo(await owner.post(address, less))).toEqual([303, `${address}?version=2`]);
    expect(headingOf((await owner.get(address)).body)).toContain("from 5 parts");
    const coming = await owner.get(`${address}?version=2`);
    expect(coming.body).toContain("This is version 2, which is not the one that holds today.");
    expect(textOf(coming.body)).toContain("No limit has been entered for Fog oil in category 9");
    application.clock.set("2027-03-08T08:00:00Z");
    expect(headingOf((await owner.get(address)).body)).toContain("from 4 parts");
    expect((await owner.get("/recipes")).body).toContain("no limit entered");
    application.clock.set("2027-03-01T08:00:00Z");
  });

  it("is never written over, nor made to add up to something else", async () => {
    const { sql } = application.database;
    for (const attack of [
      sql`update recipe_parts set milligrams_per_kilogram = 1`,
      sql`delete from recipe_parts`,
      sql`update recipes set valid_from = '2027-01-01'`,
    ])
      await expect(attack).rejects.toMatchObject({ code: "23001" });
    await expect(sql`insert into recipe_parts select recipe_id, 9, 'colour', supply_id, 1, 1, 'g'
      from recipe_parts where recipe_id = 1 and place = 0`).rejects.toMatchObject({
      constraint_name: "recipes_add_up",
    });
  });

  it("gets the next number even where two are written at once", async () => {
    const { sql } = application.database;
    const later = { ...first(), validFrom: "2027-05-01" };
    const answers = await overlapping(sql, (gate) => gate`select 1 from blends for update`, [
      () => owner.post(address, later),
      () => owner.post(address, later),
    ]);
    expect(answers.map((answer) => ledTo(answer)[1]).sort()).toEqual([
      `${address}?version=3`,
      `${address}?version=4`,
    ]);
  });

  it("says it when a limit that was entered later is below what a recipe has", async () => {
    await application.database.sql`update scent_limits set limit_ppm = 20000`;
    expect(headingOf((await helper.get(address)).body)).toBe("Do not mix Cedar: too much scent oil.");
    expect(headingOf((await helper.get("/recipes")).body)).toContain("Do not mix Cedar");
    await application.database.sql`update scent_limits set limit_ppm = 30000`;
  });
});

describe("a run", () => {
  it("keeps the version it was started by, and gives it back when it was not started after all", async () => {
    const { db, sql } = application.database;
    const planId = await insertPlan(db, { personId: 1 });
    const { runId } = await insertRun(db, { planId, blendId, lots: [{ productId, units: 20, code: "RCP" }] });
    const kept = async () => {
      const [row] =
        await sql`select version from runs left join recipes on recipes.id = recipe_id where runs.id = ${runId}`;
      return row?.version;
    };
    await owner.post(`/bench/runs/${runId}/start`, {});
    expect(await kept()).toBe(1);
    await owner.post(address, { ...first(), validFrom: "2027-02-01" });
    // 20 balls of 118 g in two bowls: 1180 g each, by the version it was started by.
    expect((await helper.get("/bench")).body).toContain(
      `/recipes/${blendId}?for=1180&amp;unit=g&amp;scale=1000&amp;version=1`,
    );
    await owner.post(`/bench/runs/${runId}/put-back`, {});
    expect(await kept()).toBe(null);
  });
});
