import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import type { Visitor } from "../build/visitor.ts";
import { openWorkroom } from "../packing/workroom.ts";
import { insertRecalledSoda } from "./recalledSoda.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let soda: Awaited<ReturnType<typeof insertRecalledSoda>>;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
  soda = await insertRecalledSoda(database);
});

/* One recall from beginning to end, in the order it is worked off. */
describe("calling a supply's lot back", () => {
  it("begins on its trace, says first what it stops, and needs a reason", async () => {
    const trace = (await owner.get(`/trace/supply-lots/${soda.supplyLotId}`)).body;
    const form = `/recalls/new?kind=supply-lot&id=${soda.supplyLotId}`;
    expect(trace).toContain(form.replace("&", "&amp;"));
    const page = (await owner.get(form)).body;
    expect(headingOf(page)).toBe("Call back SABCD, Soda?");
    expect(textOf(page)).toContain("Two customers to tell; 36 pieces here. It is in two batches");
    expect(textOf(page)).toContain("Local rules on recalls");
    const sent = { kind: "supply-lot", id: String(soda.supplyLotId) };
    const none = await owner.post("/recalls", { ...sent, reason: "" }, { from: form });
    expect([none.statusCode, none.body.includes("Fill this in.")]).toEqual([422, true]);
    const begun = await owner.post("/recalls", { ...sent, reason: "metal found" }, { from: form });
    expect([begun.statusCode, begun.headers.location]).toEqual([303, "/recalls/1"]);
    expect((await owner.get(form)).headers.location).toBe("/recalls/1");
  });

  it("says whom to tell and what is still here, and is the owner's alone", async () => {
    const page = (await owner.get("/recalls/1")).body;
    expect(headingOf(page)).toBe(
      "SABCD, Soda, is recalled: two customers are still to be told, 36 pieces and 380 g of the lot are still here.",
    );
    for (const words of [
      "Odile Marsh, =555 0101; 3 Wick Lane",
      "12 of K7Q with W-104, left Mon 1 Mar",
      "12 of K7Q, sold at the stall on Sat 6 Mar (M-101)",
      "Take 5 pieces of K7Q out of the box for W-104.",
    ])
      expect(textOf(page)).toContain(words);
    for (const address of ["/recalls", "/recalls/1", "/recalls/1/told.csv"])
      expect((await fig.get(address)).statusCode, address).toBe(403);
  });

  it("is told on Week, Supplies, the order and its deliveries, to helpers without a customer's name", async () => {
    const owners = textOf((await owner.get("/week")).body);
    expect(owners).toContain("SABCD, Soda, is recalled");
    // To the owner the recall itself says it; twice would be once too often.
    expect(owners).not.toContain("Not to be packed");
    const week = textOf((await fig.get("/week")).body);
    expect(week).toContain("recalled SABCD in it: metal found");
    expect(week).not.toContain("Odile");
    expect(textOf((await owner.get(`/supplies/${soda.supplyId}`)).body)).toContain(
      "recalled: take nothing of it",
    );
    for (const [address, units] of [
      [`/orders/${soda.orderId}`, 17],
      [`/delivery/${soda.deliveryId}`, 12],
      [`/delivery/orders/${soda.orderId}`, 17],
    ] as const)
      expect(textOf((await owner.get(address)).body), address).toContain(
        `${units} pieces of it must not be used. Lot K7Q is recalled with SABCD in it: metal found.`,
      );
    const stays = await fig.post(
      `/delivery/orders/${soda.orderId}/shipment`,
      { how: "parcel" },
      { from: `/delivery/orders/${soda.orderId}` },
    );
    expect([
      stays.statusCode,
      textOf(stays.body).includes("Take its pieces out of the box for W-104"),
    ]).toEqual([409, true]);
  });

  it("keeps what was said, and what was typed where something is missing", async () => {
    const wrong = { customerId: String(soda.otter), how: "", said: "they keep 3", unitsBack: "9" };
    const answer = await owner.post("/recalls/1/notices", wrong, { from: "/recalls/1" });
    expect(answer.statusCode).toBe(422);
    expect(textOf(answer.body)).toContain("Choose how they were told.");
    expect(answer.body).toContain("they keep 3</textarea>");
    const told = await owner.post("/recalls/1/notices", { ...wrong, how: "phone" }, { from: "/recalls/1" });
    expect(told.statusCode).toBe(303);
    const text = textOf((await owner.get("/recalls/1")).body);
    expect(text).toContain(
      "Told by phone, Mon 1 Mar 08:00, by Wren Oddfellow: they keep 3; 9 pieces sent back",
    );
    expect(text).toContain("3 pieces not sent back.");
    const file = (await owner.get("/recalls/1/told.csv")).body;
    expect(file).toContain(
      'The Lamplit Otter,"Odile Marsh, =555 0101",3 Wick Lane,W-104,K7Q,Cedar ball,12,2027-03-01,,Mon 1 Mar 08:00,by phone,Wren Oddfellow,they keep 3,9',
    );
    expect(file).toContain("Walrus Green,,,M-101,K7Q,Cedar ball,12,2027-03-01,2027-03-06,,,,,");
  });

  it("ends with a word why, and is kept", async () => {
    const ended = await owner.post("/recalls/1/end", { note: "another bag" }, { from: "/recalls/1" });
    expect(ended.statusCode).toBe(303);
    expect(headingOf((await owner.get("/recalls/1")).body)).toBe("The recall of SABCD, Soda, is over.");
    const again = await owner.post("/recalls/1/end", { note: "another bag" }, { from: "/recalls/1" });
    expect(again.statusCode).toBe(409);
    expect(headingOf((await owner.get("/recalls")).body)).toBe("Nothing is recalled.");
    expect(textOf((await owner.get("/week")).body)).not.toContain("recalled");
  });
});
