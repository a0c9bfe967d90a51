import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { ingredientFields } from "./kitchen.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const almond = ingredientFields({
  name: "Almond oil",
  kind: "oil",
  labelName: "Prunus Amygdalus Dulcis Oil",
  density: "0,914",
  densitySource: "USP 0.910 to 0.915",
});
const scent = ingredientFields({
  name: "Cedar shed oil",
  kind: "scent",
  limitCategory: ["9", "5a", "4"],
  limitShare: ["3", "0,75", ""],
  limitSource: "invented certificate 7",
});

describe("an ingredient", () => {
  it("is kept with its density and where that is from", async () => {
    expect(ledTo(await owner.post("/setup/ingredients", almond))).toEqual([303, "/setup/ingredients"]);
    const [row] = await application.database.sql`select * from supplies`;
    expect(row).toMatchObject({
      name: "Almond oil",
      density_grams_per_litre: 914,
      density_source: "USP 0.910 to 0.915",
      evaporates_basis_points: 0,
    });
    const page = await owner.get("/setup/ingredients/1");
    expect(page.body).toContain("<h1>Almond oil stands in 0 recipe versions.</h1>");
    expect(page.body).toMatch(/name="density"[^>]*value="0\.914"/);
  });

  it("is asked where a number is from, and keeps nothing until it says", async () => {
    const dense = await owner.post("/setup/ingredients", { ...almond, name: "Oil", densitySource: "" });
    expect([dense.statusCode, mistakeBeside(dense, "densitySource")]).toEqual([
      422,
      "Say where the number is from: the supplier's sheet, a table, your own weighing.",
    ]);
    const limited = await owner.post("/setup/ingredients", { ...scent, limitSource: " " });
    expect(mistakeBeside(limited, "limitSource")).toContain("which certificate");
    expect(await application.database.sql`select 1 from supplies`).toHaveLength(1);
    await expect(application.database.sql`update supplies set density_source = ''`).rejects.toMatchObject({
      constraint_name: "supplies_density_has_its_source",
    });
  });

  it("has a limit for each category its supplier certifies it for; rows without a share do not count", async () => {
    await owner.post("/setup/ingredients", scent);
    const limits = await application.database.sql`
      select category, limit_ppm, source from scent_limits order by limit_ppm`;
    expect(limits).toEqual([
      { category: "5A", limit_ppm: 7500, source: "invented certificate 7" },
      { category: "9", limit_ppm: 30_000, source: "invented certificate 7" },
    ]);
    const twice = await owner.post("/setup/ingredients", { ...scent, name: "B", limitCategory: ["9", "9"] });
    expect(mistakeBeside(twice, "limits.1.category")).toBe("This category stands above already.");
  });

  it("says on the list which scent oil has no limit", async () => {
    await owner.post("/setup/ingredients", ingredientFields({ name: "Fog oil", kind: "scent" }));
    const list = await owner.get("/setup/ingredients");
    expect(list.body).toContain("no limit has been entered for 1 scent oil.</h1>");
    expect(list.body).toContain("no limit entered");
  });

  it("has a name of its own, and writes down every change once", async () => {
    const answer = await owner.post("/setup/ingredients", { ...almond, name: "FOG oil" });
    expect(mistakeBeside(answer, "name")).toContain("Another ingredient has this name");
    await owner.post("/setup/ingredients/2", { ...scent, limitShare: ["2.5", "0.75", ""] });
    await owner.post("/setup/ingredients/2", { ...scent, limitShare: ["2.5", "0.75", ""] });
    const changed = (await changesOf(application, "supply")).filter(({ what }) => what === "changed");
    expect(changed).toHaveLength(1);
    expect(changed[0]?.after).toMatchObject({
      limits: [
        { category: "5A", limitPpm: 7500 },
        { category: "9", limitPpm: 25_000 },
      ],
    });
  });

  it("can be retired and brought back", async () => {
    await owner.post("/setup/ingredients/3/retirement", {});
    expect((await owner.get("/setup/ingredients")).body).toContain("1 retired ingredient");
    await owner.post("/setup/ingredients/3/return", {});
    expect((await owner.get("/setup/ingredients")).body).not.toContain("retired ingredient");
    expect((await owner.get("/setup/ingredients/99")).statusCode).toBe(404);
  });

  it("lists the allergens its supplier states, exactly, and which paper says so", async () => {
    const allergens = "Linalool 2,5 %\r\n\r\nalpha-Isomethyl  Ionone: 0.0007\r\nCitral\t0";
    const stated = ingredientFields({ name: "Tea oil", kind: "scent", allergens, allergenSource: "paper 3" });
    expect(ledTo(await owner.post("/setup/ingredients", stated))).toEqual([303, "/setup/ingredients"]);
    const rows = await application.database.sql`
      select name, share_ppm from listed_allergens order by share_ppm desc`;
    expect(rows).toEqual([
      { name: "Linalool", share_ppm: 25_000 },
      { name: "alpha-Isomethyl Ionone", share_ppm: 7 },
      { name: "Citral", share_ppm: 0 },
    ]);
    const [tea] = await application.database.sql`select id from supplies where name = 'Tea oil'`;
    const page = await owner.get(`/setup/ingredients/${tea?.id}`);
    expect(page.body).toContain("Citral 0\nLinalool 2.5\nalpha-Isomethyl Ionone 0.0007</textarea>");
    // A statement that lists none is not the same as no statement.
    await owner.post(`/setup/ingredients/${tea?.id}`, { ...stated, allergens: "None" });
    expect(await application.database.sql`select 1 from listed_allergens`).toHaveLength(0);
    expect((await owner.get(`/setup/ingredients/${tea?.id}`)).body).toContain(">none</textarea>");
    await owner.post(`/setup/ingredients/${tea?.id}`, { ...stated, allergens: "", allergenSource: "" });
    const [row] = await application.database.sql`select allergen_source from supplies where id = ${tea?.id}`;
    expect(row?.allergen_source).toBe("");
    await application.database.sql`delete from supplies where id = ${tea?.id}`;
  });

  it("says in which line of the allergens something is wrong, and keeps nothing", async () => {
    const beside = async (allergens: string, allergenSource = "paper 3", field = "allergens") => {
      const fields = ingredientFields({ name: "Moss oil", kind: "scent", allergens, allergenSource });
      const answer = await owner.post("/setup/ingredients", fields);
      return [answer.statusCode, mistakeBeside(answer, field)];
    };
    const example = "Give the allergen and its percentage of the oil, such as Linalool 2.5.";
    expect(await beside("Citral 1\nLinalool")).toEqual([422, `Line 2: ${example}`]);
    expect(await beside(": 2.5")).toEqual([422, "Line 1: Fill this in."]);
    const share = "Line 1: Give a percentage from 0 to 100 with at most 4 decimals.";
    for (const wrong of ["101", "0.00001", "-1", "<0.1"])
      expect(await beside(`Linalool ${wrong}`)).toEqual([422, share]);
    expect(await beside("Linalool 1\nLINALOOL 2")).toEqual([422, "Line 2: LINALOOL stands above already."]);
    expect((await beside("Linalool 1", " ", "allergenSource"))[1]).toContain("which paper");
    expect((await beside("", "paper 3"))[1]).toContain("or none where it states none");
    expect(await application.database.sql`select 1 from supplies where name = 'Moss oil'`).toHaveLength(0);
  });

  it("is the owner's to change", async () => {
    const helper = await helperOf(application, owner);
    expect((await helper.get("/setup/ingredients")).statusCode).toBe(403);
    expect((await helper.post("/setup/ingredients", almond, { from: "/bench" })).statusCode).toBe(403);
  });
});
