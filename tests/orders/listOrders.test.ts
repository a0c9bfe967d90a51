import { describe, expect, it } from "vitest";
import { headingOf } from "../build/pageText.ts";
import { insertOrder } from "../build/rows.ts";
import { useDesk } from "./desk.ts";

const { application, desk } = useDesk();

async function order(reference: string, given: Partial<Parameters<typeof insertOrder>[1]> = {}) {
  const { otter, cedar } = desk();
  const lines = [{ productId: cedar, units: 36 }];
  return insertOrder(application.database.db, { customerId: otter, reference, lines, ...given });
}

async function list(query = "") {
  return (await desk().owner.get(`/orders${query}`)).body;
}

/** The references in the order of the page. */
function references(body: string): string[] {
  return [...body.matchAll(/class="order-link"[^>]*>([^<]*)</g)].map(([, reference]) => reference ?? "");
}

const draft = { state: "draft", confirmedAt: null } as const;
const long = new Date("2027-02-20T08:00:00Z");

describe("the list of orders", () => {
  it("says so when there is none", async () => {
    expect(await list()).toContain("<h1>No orders yet: enter the first, or take a file of them.</h1>");
  });

  it("opens with how many are open, what is late against today, and what leaves next", async () => {
    await order("W-1", { shipBy: "2027-02-27" });
    await order("W-2", { shipBy: "2027-03-01", state: "packing" });
    await order("W-3", { shipBy: "2027-03-02", customerId: desk().heron });
    await order("W-4", { shipBy: "2027-02-26", state: "packed", packedAt: long });
    await order("W-5", { shipBy: "2027-02-20", state: "shipped", packedAt: long, shippedAt: long });
    await order("W-6", { shipBy: "2027-02-20", ...draft });
    const body = await list();
    expect(headingOf(body)).toBe(
      "Four orders are open, one of them late; next is W-2 for The Lamplit Otter, today; one draft waits to be confirmed.",
    );
    expect(references(body)).toEqual(["W-4", "W-1", "W-2", "W-3"]);
    expect(body).toContain("late by 2 days");
    expect(body).toContain("due today");
    expect(body).toContain("Sat 27 Feb");
  });

  it("moves with the workshop's own date, not with the server's", async () => {
    await order("W-1", { shipBy: "2027-03-01" });
    expect(await list()).toContain("due today");
    await application.database.sql`update workshop set time_zone = 'Pacific/Kiritimati'`;
    application.clock.set("2027-03-01T12:00:00Z");
    try {
      expect(await list()).toContain("late by 1 day");
    } finally {
      await application.database.sql`update workshop set time_zone = 'UTC'`;
      application.clock.set("2027-03-01T08:00:00Z");
    }
  });

  it("is narrowed by state and customer in the address", async () => {
    await order("W-1", { shipBy: "2027-02-27" });
    await order("W-2", { customerId: desk().heron });
    await order("W-3", { ...draft });
    await order("W-4", { state: "cancelled", cancelledAt: long });
    expect(references(await list("?state=late"))).toEqual(["W-1"]);
    expect(references(await list("?state=draft"))).toEqual(["W-3"]);
    expect(references(await list("?state=cancelled"))).toEqual(["W-4"]);
    expect(references(await list(`?customer=${desk().heron}`))).toEqual(["W-2"]);
    expect(references(await list(`?state=late&customer=${desk().heron}`))).toEqual([]);
    expect(references(await list("?state=all"))).toHaveLength(4);
    expect(references(await list("?state=nonsense&customer=x&page=-1"))).toEqual(["W-1", "W-2"]);
  });

  it("shows fifty a page and the way to the next", async () => {
    for (let count = 1; count <= 51; count += 1) await order(`W-${count}`);
    const first = await list();
    expect(references(first)).toHaveLength(50);
    expect(first).toContain("Orders 1 to 50 of 51, 1\u202f800 pieces; the earliest ship-by date first.");
    expect(first).toContain('href="/orders?page=2"');
    expect(references(await list("?page=2"))).toEqual(["W-51"]);
    expect(await list("?page=3")).toContain("No order is like that.");
  });
});
