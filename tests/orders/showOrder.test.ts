import { expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { recordDelivered } from "../../server/delivery/recordDelivered.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCarrier, insertOrder, insertReadyLot } from "../build/rows.ts";
import { firstOf, NOON } from "../packing/workroom.ts";
import { useDesk } from "./desk.ts";

const { application, desk } = useDesk();

it("tells everything about an order: how far each line is, from which lots, what left, and who did what", async () => {
  const { owner, heron, cedar, oat } = desk();
  const { db, sql } = application.database;
  const { orderId, lineIds } = await insertOrder(db, {
    customerId: heron,
    terms: "as-ready",
    note: "Ring first\nTwice",
    lines: [
      { productId: cedar, units: 36 },
      { productId: oat, units: 24 },
    ],
  });
  const lotId = await insertReadyLot(db, { productId: cedar, units: 20, code: "AAA" });
  const [person] = await sql<{ id: number }[]>`select id from people where role = 'helper'`;
  const actor = { personId: person?.id ?? 0, at: NOON };
  const takes = [{ lotId, units: 20 }];
  await inTransaction(db, (work) => packPieces(work, actor, { orderLineId: firstOf(lineIds), takes }));
  const carrierId = await insertCarrier(db, { name: "Slow Heron Post" });
  const parcels = [{ carrierId, service: "slow", grams: null, tracking: "SH 77" }];
  const way = { how: "parcel", parcels } as const;
  const left = await inTransaction(db, (work) => shipOrder(work, actor, { orderId, ...way }));
  const page = (await owner.get(`/orders/${orderId}`)).body;
  expect(headingOf(page)).toBe(
    "W-104 for Heron &amp; Thimble: 20 of 60 pieces packed, 20 of them shipped, due by Friday 5 March.",
  );
  expect(cells(page, "Cedar ball")).toEqual(["36", "20", "20", "16"]);
  expect(cells(page, "Oat ball")).toEqual(["24", "·", "·", "24"]);
  expect(cells(page, "In all")).toEqual(["60", "20", "20", "40"]);
  expect(page).toContain(`20 of <a href="/shelf/${lotId}">AAA</a>`);
  expect(page).toContain("20 pieces by parcel</a>, left Mon 1 Mar 12:00, not yet recorded as arrived");
  expect(textOf(page)).toContain("Slow Heron Post, slow: SH 77");
  expect(page).toContain("Ring first\nTwice");
  expect(page).toContain("Mon 1 Mar 12:00, Fig Underhill</span><br/>packed into its box: 20 pieces");
  expect(page).toContain("shipped in part");
  expect(page).toContain("20 pieces have left already, so the order cannot be cancelled.");
  if (!left.ok) throw new Error("The part delivery should have left");
  const { deliveryId } = left.value;
  await inTransaction(db, (work) => recordDelivered(work, actor, { deliveryId }));
  expect((await owner.get(`/orders/${orderId}`)).body).toContain("arrived Mon 1 Mar 12:00");
});

/** The numbers of a row of the lines' table. */
function cells(page: string, name: string): string[] {
  const row = new RegExp(`${name}</th>(.*?)</tr>`).exec(page)?.[1] ?? "";
  return [...row.matchAll(/class="number(?: none)?"[^>]*>([^<]*)</g)].map(([, count]) => count ?? "");
}
