import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { shadeOf } from "../../server/products/shade.ts";
import { useApplication } from "../build/application.ts";
import { insertProduct, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const cedar = { name: "Cedar & Amber", code: "", colour: "#C98A3D", pattern: "lines", shade: "0.7" };

const blendsThere = () => application.database.sql`select * from blends order by id`;
const idOf = async (code: string) =>
  (await application.database.sql`select id from blends where code = ${code}`)[0]?.id;

describe("adding a blend", () => {
  it("takes the code from the name and the colour in small letters, once", async () => {
    const formToken = randomUUID();
    const answer = await owner.post("/setup/blends", cedar, { formToken });
    await owner.post("/setup/blends", cedar, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/blends"]);
    const rows = await blendsThere();
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      code: "cedar-amber",
      colour: "#c98a3d",
      pattern: "lines",
      shade: "0.70",
    });
    expect(await changesOf(application, "blend")).toMatchObject([
      { what: "added", after: { code: "cedar-amber" } },
    ]);
  });

  it("takes the shade from the colour where none is given", async () => {
    await owner.post("/setup/blends", { ...cedar, name: "Black tea", colour: "#000000", shade: "" });
    const [tea] = await application.database.sql`select shade from blends where code = 'black-tea'`;
    expect(tea?.shade).toBe("1.00");
  });

  it("answers each mistake beside its field, draws what can be drawn, and adds nothing", async () => {
    const answer = await owner.post("/setup/blends", {
      name: "",
      code: "A B",
      colour: "red",
      pattern: "stars",
      shade: "1.01",
    });
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "name")).toBe("Fill this in.");
    expect(mistakeBeside(answer, "code")).toContain("Use lower-case letters");
    expect(mistakeBeside(answer, "colour")).toContain("# and six digits");
    expect(mistakeBeside(answer, "pattern")).toBe("Choose a pattern.");
    expect(mistakeBeside(answer, "shade")).toContain("from 0 to 1");
    expect(answer.body).not.toContain('fill="red"');
    expect(await blendsThere()).toHaveLength(2);
  });

  it("refuses a code or a name that another blend has", async () => {
    const code = await owner.post("/setup/blends", { ...cedar, name: "Cedar -- Amber" });
    expect(mistakeBeside(code, "code")).toContain("Another blend has this code");
    const name = await owner.post("/setup/blends", { ...cedar, name: "cedar & AMBER", code: "other" });
    expect(mistakeBeside(name, "name")).toContain("Another blend has this name");
  });
});

describe("the look of a blend", () => {
  it("is drawn in its colour and pattern, lightest blend first", async () => {
    const page = await owner.get("/setup/blends");
    expect(page.body).toContain("<h1>2 blends, from Cedar &amp; Amber, the lightest, to Black tea.</h1>");
    expect(page.body).toContain('fill="#c98a3d"');
    expect(page.body.indexOf("Cedar")).toBeLessThan(page.body.lastIndexOf("Black tea"));
  });

  it("is drawn anew for a colour that is only tried, and never for one that attacks", async () => {
    const htmx = { "hx-request": "true" };
    const tried = await owner.get("/setup/blends/patterns?colour=%23123456&pattern=dots", htmx);
    expect(tried.body).toContain('fill="#123456"');
    expect(tried.body).toMatch(/value="dots"[^>]*checked|checked[^>]*value="dots"/);
    expect(tried.body).not.toContain("<html");
    const attack = await owner.get(`/setup/blends/patterns?colour=${encodeURIComponent('"><script>')}`, htmx);
    expect([attack.statusCode, attack.body.includes("<script>")]).toEqual([200, false]);
  });
});

describe("changing and retiring a blend", () => {
  it("keeps the new look with the one before, and lets its products follow the name", async () => {
    const id = Number(await idOf("cedar-amber"));
    const { db, sql } = application.database;
    const shapeId = await insertShape(db, { code: "ball-60", name: "Ball 60" });
    const product = { blendId: id, shapeId, code: "cedar-amber/ball-60", name: "Cedar & Amber – Ball 60" };
    await insertProduct(db, product);
    await owner.post(`/setup/blends/${id}`, { ...cedar, name: "Cedar", pattern: "grid" });
    expect((await changesOf(application, "blend")).at(-1)).toMatchObject({
      what: "changed",
      before: { name: "Cedar & Amber", pattern: "lines" },
      after: { name: "Cedar", pattern: "grid" },
    });
    expect(await sql`select code, name from products`).toEqual([
      { code: "cedar-amber/ball-60", name: "Cedar – Ball 60" },
    ]);
    expect((await owner.get(`/setup/blends/${id}`)).body).toContain("Cedar goes into 1 product.");
  });

  it("retires it with its products and brings both back", async () => {
    const id = await idOf("cedar-amber");
    const retired = () =>
      application.database.sql`select code from products where retired_at is not null
        union all select code from blends where retired_at is not null order by code`;
    await owner.post(`/setup/blends/${id}/retirement`, {});
    expect((await retired()).map(({ code }) => code)).toEqual(["cedar-amber", "cedar-amber/ball-60"]);
    await owner.post(`/setup/blends/${id}/return`, {});
    expect(await retired()).toEqual([]);
    expect((await owner.post("/setup/blends/999/retirement", {})).statusCode).toBe(404);
  });
});

describe("the shade a colour has of itself", () => {
  it("is one minus the lightness L* of CIE 1976: white 0, black 1, sRGB mid grey #777777 has L* 50", () => {
    expect([shadeOf("#ffffff"), shadeOf("#000000"), shadeOf("#777777")]).toEqual([0, 1, 0.5]);
  });

  it("orders the primaries as the eye does: L* of green 87.7, red 53.2, blue 32.3 (values from memory)", () => {
    expect([shadeOf("#00ff00"), shadeOf("#ff0000"), shadeOf("#0000ff")]).toEqual([0.12, 0.47, 0.68]);
  });
});
