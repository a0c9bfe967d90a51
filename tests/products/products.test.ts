import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertBlend, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
let owner: Visitor;
let cedar = 0;
let oat = 0;
let ball = 0;
let heart = 0;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  const { db } = application.database;
  cedar = await insertBlend(db, { code: "cedar", name: "Cedar <b>" });
  oat = await insertBlend(db, { code: "oat", name: "Oat" });
  ball = await insertShape(db, { code: "ball-60", name: "Ball 60" });
  heart = await insertShape(db, { code: "heart", name: "Heart" });
});

const range = async () =>
  (
    await application.database.sql`select code, name, retired_at is null as made from products order by code`
  ).map((row) => `${row.code}: ${row.name}${row.made ? "" : " (retired)"}`);
const idOf = async (code: string) =>
  (await application.database.sql`select id from products where code = ${code}`)[0]?.id;

describe("taking products into the range", () => {
  it("makes one of each ticked cell, called and coded after blend and shape, once", async () => {
    const formToken = randomUUID();
    const cells = [`${oat}x${ball}`, `${cedar}x${heart}`, `${oat}x${ball}`];
    const answer = await owner.post("/setup/products", { cells }, { formToken });
    await owner.post("/setup/products", { cells }, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/products"]);
    expect(await range()).toEqual(["cedar/heart: Cedar <b> – Heart", "oat/ball-60: Oat – Ball 60"]);
    expect((await changesOf(application, "product")).map(({ what }) => what)).toEqual(["added", "added"]);
  });

  it("shows the grid with what is made and a box for what is not, typed text as text", async () => {
    const page = await owner.get("/setup/products");
    expect(page.body).toContain("<h1>You make 2 products.</h1>");
    expect(page.body).toContain(`value="${oat}x${heart}"`);
    expect(page.body).not.toContain(`value="${oat}x${ball}"`);
    expect(page.body).toContain("Cedar &lt;b>");
    expect(page.body).not.toContain("Cedar <b>");
  });

  it("leaves a product that is made as it is", async () => {
    await owner.post("/setup/products", { cells: [`${oat}x${ball}`] });
    expect(await range()).toHaveLength(2);
    expect(await changesOf(application, "product")).toHaveLength(2);
  });

  it("answers a form without a tick, and one with anything but cells, and makes nothing", async () => {
    const none = await owner.post("/setup/products", {});
    expect([none.statusCode, mistakeBeside(none, "cells")]).toEqual([
      422,
      "Tick at least one product to make.",
    ]);
    const odd = await owner.post("/setup/products", { cells: ["1x1 or 1"] });
    expect(mistakeBeside(odd, "cells")).toBe("Tick boxes of the grid only.");
    const many = Array.from({ length: 501 }, (_, index) => `1x${index + 1}`);
    expect(mistakeBeside(await owner.post("/setup/products", { cells: many }), "cells")).toContain(
      "at most 500",
    );
    expect(await range()).toHaveLength(2);
  });

  it("makes none of the ticked ones when a blend or shape of one was retired meanwhile", async () => {
    await owner.post(`/setup/blends/${cedar}/retirement`, {});
    const answer = await owner.post("/setup/products", { cells: [`${oat}x${heart}`, `${cedar}x${ball}`] });
    expect([answer.statusCode, mistakeBeside(answer, "cells")]).toEqual([
      409,
      "A blend you ticked has been retired meanwhile; nothing was taken into the range. Look at the grid as it is now.",
    ]);
    const unknown = await owner.post("/setup/products", { cells: [`${oat}x999`] });
    expect(unknown.statusCode).toBe(409);
    expect(await range()).toHaveLength(2);
    await owner.post(`/setup/blends/${cedar}/return`, {});
  });
});

describe("one product", () => {
  it("can be called something else; its code stays", async () => {
    const id = await idOf("oat/ball-60");
    expect(ledTo(await owner.post(`/setup/products/${id}`, { name: "Porridge ball" }))).toEqual([
      303,
      "/setup/products",
    ]);
    expect(await range()).toContain("oat/ball-60: Porridge ball");
    expect((await changesOf(application, "product")).at(-1)).toMatchObject({
      what: "changed",
      before: { name: "Oat – Ball 60" },
      after: { name: "Porridge ball" },
    });
    const blank = await owner.post(`/setup/products/${id}`, { name: " " });
    expect([blank.statusCode, mistakeBeside(blank, "name")]).toEqual([422, "Fill this in."]);
    expect((await owner.post("/setup/products/999", { name: "x" })).statusCode).toBe(404);
  });

  it("retires, is still readable, and comes back by its page or its box in the grid", async () => {
    const id = await idOf("oat/ball-60");
    await owner.post(`/setup/products/${id}/retirement`, {});
    expect(await range()).toContain("oat/ball-60: Porridge ball (retired)");
    expect((await owner.get(`/setup/products/${id}`)).body).toContain("Porridge ball is retired.");
    await owner.post(`/setup/products/${id}/return`, {});
    expect(await range()).toContain("oat/ball-60: Porridge ball");
    await owner.post(`/setup/products/${id}/retirement`, {});
    await owner.post("/setup/products", { cells: [`${oat}x${ball}`] });
    expect(await range()).toContain("oat/ball-60: Porridge ball");
  });

  it("does not come back while its shape is retired", async () => {
    const id = await idOf("oat/ball-60");
    await owner.post(`/setup/shapes/${ball}/retirement`, {});
    const answer = await owner.post(`/setup/products/${id}/return`, {});
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("Its shape is retired: bring the shape back first.");
    expect(answer.body).toContain('value="Porridge ball"');
    expect(await range()).toContain("oat/ball-60: Porridge ball (retired)");
  });
});

describe("the tables themselves", () => {
  it("refuse a second product of the same blend and shape", async () => {
    await expect(
      application.database.sql`insert into products (code, name, blend_id, shape_id)
        values ('other', 'Other', ${oat}, ${ball})`,
    ).rejects.toMatchObject({ constraint_name: "products_one_per_blend_and_shape" });
  });
});
