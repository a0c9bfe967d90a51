import { expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot, insertWorkshop } from "../build/rows.ts";
import { button, makeAccount, press } from "../journeys/hands.ts";

const stage = usePage();

it("leaves the keyboard at the line that was packed, then at the way out of the packed box", async () => {
  const { page, application } = stage;
  const { db } = application.database;
  await makeAccount(page);
  await insertWorkshop(db);
  const productId = await insertProduct(db);
  await insertReadyLot(db, { productId, units: 30 });
  const customerId = await insertCustomer(db);
  const { orderId } = await insertOrder(db, { customerId, lines: [{ productId, units: 24 }] });
  await page.goto(`/packing/${orderId}`);
  await press(page, enter(/^Pack these 24/));
  expect(await focused()).toBe("24 of 24 packed");
  await press(page, enter(/^Mark as packed/));
  expect(await focused()).toBe("Send it off");
});

const focused = () => stage.page.evaluate<string>("document.activeElement.textContent.trim()");

/** A button, pressed by the keyboard. */
function enter(name: RegExp) {
  return { click: () => button(stage.page, name).press("Enter") };
}
