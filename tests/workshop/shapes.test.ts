import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertBlend, insertProduct } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "./setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const ball = {
  name: "Ball 60",
  code: "",
  driesIn: "half",
  moldSets: "24",
  moldHours: "16.5",
  restHours: "8",
  unitsPerTray: "20",
  pieceGrams: "118",
  formSeconds: "48",
  turnSeconds: "3.5",
  unmoldSeconds: "15",
  packSeconds: "66",
};

const shapesThere = () => application.database.sql`select * from shapes order by id`;
const idOf = async (code: string) =>
  (await application.database.sql`select id from shapes where code = ${code}`)[0]?.id;

describe("adding a shape", () => {
  it("keeps hours as minutes and grams as milligrams, and takes the code from the name, once", async () => {
    const formToken = randomUUID();
    const answer = await owner.post("/setup/shapes", ball, { formToken });
    await owner.post("/setup/shapes", ball, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/shapes"]);
    const rows = await shapesThere();
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      code: "ball-60",
      mold_minutes: 990,
      rest_minutes: 480,
      piece_milligrams: 118_000,
      turn_seconds: "3.50",
    });
    expect(await changesOf(application, "shape")).toMatchObject([
      { what: "added", before: null, after: { code: "ball-60", moldMinutes: 990 } },
    ]);
  });

  it("says how many drying pieces the molds hold: 24 sets of halves hold 47", async () => {
    const page = await owner.get("/setup/shapes");
    expect(page.body).toContain("<h1>1 shape, whose molds hold 47 drying pieces at once.</h1>");
    expect(page.body).toContain("24 sets hold 47 drying pieces");
  });

  it("answers each mistake beside its field and adds nothing", async () => {
    const answer = await owner.post("/setup/shapes", {
      ...ball,
      name: "Heart",
      code: "Heart 70",
      driesIn: "somewhere",
      moldSets: "2.5",
      moldHours: "720.01",
      unitsPerTray: "0",
      pieceGrams: "0",
      formSeconds: "-1",
    });
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "code")).toContain("Use lower-case letters");
    expect(mistakeBeside(answer, "driesIn")).toBe("Choose how it dries.");
    expect(mistakeBeside(answer, "moldSets")).toContain("whole number");
    expect(mistakeBeside(answer, "moldHours")).toContain("from 0 to 720");
    expect(mistakeBeside(answer, "unitsPerTray")).toContain("from 1 to 10\u202f000");
    expect(mistakeBeside(answer, "pieceGrams")).toContain("from 0.001");
    expect(mistakeBeside(answer, "formSeconds")).toContain("from 0 to 3\u202f600");
    expect(await shapesThere()).toHaveLength(1);
  });

  it("refuses a code or a name that another shape has", async () => {
    const code = await owner.post("/setup/shapes", { ...ball, name: "Sphere", code: "ball-60" });
    expect([code.statusCode, mistakeBeside(code, "code")]).toEqual([
      422,
      "Another shape has this code: give one of its own.",
    ]);
    const name = await owner.post("/setup/shapes", { ...ball, name: "BALL 60", code: "sphere" });
    expect(mistakeBeside(name, "name")).toContain("Another shape has this name");
    expect(await shapesThere()).toHaveLength(1);
  });

  it("asks for a code where the name suggests none", async () => {
    const answer = await owner.post("/setup/shapes", { ...ball, name: "球" });
    expect(mistakeBeside(answer, "code")).toContain("The name suggests no code");
    const given = await owner.post("/setup/shapes", { ...ball, name: "球", code: "qiu", driesIn: "none" });
    expect(given.statusCode).toBe(303);
  });
});

describe("changing a shape", () => {
  it("shows it as it was typed and keeps the new numbers with those before", async () => {
    const id = await idOf("ball-60");
    const page = await owner.get(`/setup/shapes/${id}`);
    expect(page.body).toContain("<h1>Ball 60: 24 sets hold 47 drying pieces.</h1>");
    expect(page.body).toContain('value="16.5"');
    await owner.post(`/setup/shapes/${id}`, { ...ball, moldSets: "1" });
    expect((await changesOf(application, "shape")).at(-1)).toMatchObject({
      what: "changed",
      before: { moldSets: 24, moldMinutes: 990 },
      after: { moldSets: 1, moldMinutes: 990 },
    });
    expect((await owner.get(`/setup/shapes/${id}`)).body).toContain("1 set holds 1 drying piece.");
  });

  it("leaves the code alone, whatever is sent", async () => {
    await owner.post(`/setup/shapes/${await idOf("ball-60")}`, { ...ball, code: "other" });
    expect(await idOf("other")).toBeUndefined();
  });

  it("refuses another shape's name and answers 404 for a shape that is not there", async () => {
    const answer = await owner.post(`/setup/shapes/${await idOf("ball-60")}`, { ...ball, name: "球" });
    expect(mistakeBeside(answer, "name")).toContain("Another shape has this name");
    expect((await owner.get("/setup/shapes/999")).statusCode).toBe(404);
    expect((await owner.post("/setup/shapes/999", ball)).statusCode).toBe(404);
    expect((await owner.post("/setup/shapes/1 or 1", ball)).statusCode).toBe(404);
  });

  it("lets the products still called after it follow its new name, and no others", async () => {
    const { db, sql } = application.database;
    const shapeId = Number(await idOf("ball-60"));
    const cedar = await insertBlend(db, { code: "cedar", name: "Cedar" });
    const oat = await insertBlend(db, { code: "oat", name: "Oat" });
    await insertProduct(db, { blendId: cedar, shapeId, code: "cedar/ball-60", name: "Cedar – Ball 60" });
    await insertProduct(db, { blendId: oat, shapeId, code: "oat/ball-60", name: "Porridge" });
    await owner.post(`/setup/shapes/${shapeId}`, { ...ball, name: "Big ball" });
    const names = await sql`select name from products order by code`;
    expect(names.map(({ name }) => name)).toEqual(["Cedar – Big ball", "Porridge"]);
  });
});

describe("retiring a shape", () => {
  const products = () =>
    application.database.sql`select code, retired_at is not null as retired from products order by code`;

  it("retires its products with it and keeps it readable", async () => {
    const id = await idOf("ball-60");
    const answer = await owner.post(`/setup/shapes/${id}/retirement`, {});
    expect(ledTo(answer)).toEqual([303, "/setup/shapes"]);
    expect(await products()).toEqual([
      { code: "cedar/ball-60", retired: true },
      { code: "oat/ball-60", retired: true },
    ]);
    expect((await owner.get("/setup/shapes")).body).toContain("1 retired shape");
    expect((await owner.get(`/setup/shapes/${id}`)).body).toContain("is retired. It stays readable");
  });

  it("does nothing a second time", async () => {
    const before = await changesOf(application, "shape");
    await owner.post(`/setup/shapes/${await idOf("ball-60")}/retirement`, {});
    expect(await changesOf(application, "shape")).toEqual(before);
  });

  it("brings back with it the products that were retired with it, not one retired before", async () => {
    const id = await idOf("ball-60");
    await owner.post(`/setup/shapes/${id}/return`, {});
    expect((await products()).map(({ retired }) => retired)).toEqual([false, false]);
    const [porridge] = await application.database.sql`select id from products where name = 'Porridge'`;
    await owner.post(`/setup/products/${porridge?.id}/retirement`, {});
    application.clock.set("2027-03-01T09:00:00Z");
    await owner.post(`/setup/shapes/${id}/retirement`, {});
    await owner.post(`/setup/shapes/${id}/return`, {});
    expect(await products()).toEqual([
      { code: "cedar/ball-60", retired: false },
      { code: "oat/ball-60", retired: true },
    ]);
  });
});
