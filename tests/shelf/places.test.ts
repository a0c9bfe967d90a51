import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { alongTheShelf } from "../../server/shelf/shelfPlace.ts";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import { insertDryingLot, insertProduct, insertReadyLot, insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication();
const { database } = application;
let fig: Visitor;
let lotId: number;
let otherId: number;
let dryingId: number;

beforeAll(async () => {
  const owner = await firstOwner(application);
  await insertWorkshop(database.db);
  fig = await newHelper(application, owner);
});

beforeEach(async () => {
  await database.sql`truncate blends, shapes, changes restart identity cascade`;
  const productId = await insertProduct(database.db, { name: "Cedar amber ball" });
  lotId = await insertReadyLot(database.db, { productId, units: 12 });
  otherId = await insertReadyLot(database.db, { productId, units: 9, code: "M3X" });
  dryingId = await insertDryingLot(database.db, { productId, units: 20 });
});

describe("along the shelf", () => {
  it("is by the number in the name, whatever its case, and what stands nowhere comes last", () => {
    const places = ["B1", "", "a10", "A2", "Window"].map((shelfPlace) => ({ shelfPlace }));
    expect(places.toSorted(alongTheShelf).map(({ shelfPlace }) => shelfPlace)).toEqual([
      ...["A2", "a10", "B1", "Window", ""],
    ]);
  });
});

describe("putting lots at a place", () => {
  it("is done for one lot on its page, and written into its history", async () => {
    const answer = await put(`/shelf/${lotId}/place`, { shelfPlace: "  A  3 " });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/shelf/${lotId}`]);
    expect(await placesNow()).toEqual({ K7Q: "A 3", M3X: "", D4R: "" });
    expect(textOf((await fig.get(`/shelf/${lotId}`)).body)).toContain("at A 3.");
    const [change] = await database.sql`select what, before, after from changes where subject = 'lot'`;
    expect(change).toEqual({
      ...{ what: "put at a place", before: { shelfPlace: "" }, after: { shelfPlace: "A 3" } },
    });
  });

  it("is done for several lots at once, and taken back by a blank", async () => {
    const both = { lot: [String(lotId), String(otherId)] };
    expect((await put("/shelf/places", { ...both, shelfPlace: "B2" })).statusCode).toBe(303);
    expect(await placesNow()).toEqual({ K7Q: "B2", M3X: "B2", D4R: "" });
    expect(textOf((await fig.get("/shelf/places")).body)).toContain(
      "Every ready lot has its place on the shelf.",
    );
    await put("/shelf/places", { lot: String(otherId), shelfPlace: "" });
    expect(await placesNow()).toEqual({ K7Q: "B2", M3X: "", D4R: "" });
  });

  it("is refused for all where one of them still dries", async () => {
    const both = { lot: [String(lotId), String(dryingId)] };
    const answer = await put("/shelf/places", { ...both, shelfPlace: "B2" });
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("Lot D4R is not ready, so it stands at no place of the shelf yet.");
    expect(answer.body).toContain('value="B2"');
    expect(await placesNow()).toEqual({ K7Q: "", M3X: "", D4R: "" });
  });

  it("asks for at least one lot, and for a short word", async () => {
    const none = await put("/shelf/places", { shelfPlace: "B2" });
    expect([none.statusCode, textOf(none.body).includes("Tick at least one lot.")]).toEqual([422, true]);
    const long = await put(`/shelf/${lotId}/place`, { shelfPlace: "behind the door" });
    expect([long.statusCode, textOf(long.body).includes("Use at most 12 characters.")]).toEqual([422, true]);
    expect((await put("/shelf/999999/place", { shelfPlace: "B2" })).statusCode).toBe(404);
  });
});

function put(address: string, fields: Record<string, string | string[]>) {
  return fig.post(address, fields, { from: "/shelf/places" });
}

async function placesNow() {
  const rows = await database.sql<{ code: string; place: string }[]>`
    select code, shelf_place as place from lots order by id`;
  return Object.fromEntries(rows.map(({ code, place }) => [code, place]));
}
