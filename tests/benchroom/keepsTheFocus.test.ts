import { describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { insertWorkshop } from "../build/rows.ts";
import { button, makeAccount, press } from "../journeys/hands.ts";
import { furnish } from "./benchRoom.ts";

const stage = usePage();

/** What the keyboard is at: the words on it, or the element's name where it is nothing in particular. */
const focused = () =>
  stage.page.evaluate<string>(`
    document.activeElement === document.body ? "body" : document.activeElement.textContent.trim()`);

describe("a tap at the bench with the keyboard", () => {
  it("leaves one at the run or the lot it moved on, never at the top of the page", async () => {
    const { page, application } = stage;
    await makeAccount(page);
    await insertWorkshop(application.database.db);
    const { ballLot } = await furnish(application.database.db);
    application.clock.set("2027-03-01T09:10:00Z");
    await page.goto("/bench");
    await press(page, enter("Start mixing"));
    expect(await focused()).toBe("Cedar amber");
    await press(page, enter("Not started after all"));
    expect(await focused()).toBe("Cedar amber");

    await application.database.sql`
      update lots set state = 'drying', trays = 1, formed_at = '2027-03-01T10:00Z',
        unmold_due_at = '2027-03-02T02:00Z', ready_due_at = '2027-03-02T10:00Z' where id = ${ballLot}`;
    await application.database.sql`
      insert into moves (lot_id, kind, units, at, person_id) values (${ballLot}, 'made', 30, '2027-03-01T10:00Z', 1)`;
    application.clock.set("2027-03-02T08:00:00Z");
    await page.goto("/bench");
    await press(page, enter("All unmolded"));
    expect(await focused()).toBe("BAHH");
    application.clock.set("2027-03-02T20:00:00Z");
    await page.goto("/bench");
    await press(page, enter("All ready"));
    expect(await focused()).toBe("BAHH");
  });
});

/** A button, pressed by the keyboard. */
function enter(name: string) {
  return { click: () => button(stage.page, name).press("Enter") };
}
