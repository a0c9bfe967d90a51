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

  it("is the owner's to change", async () => {
    const helper = await helperOf(application, owner);
    expect((await helper.get("/setup/ingredients")).statusCode).toBe(403);
    expect((await helper.post("/setup/ingredients", almond, { from: "/bench" })).statusCode).toBe(403);
  });
});
