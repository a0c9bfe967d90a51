import { expect, it } from "vitest";
import { insertWorkshop } from "../build/rows.ts";
import { makeAccount } from "../journeys/hands.ts";
import { usePage } from "./page.ts";

const WIDTH = 360;
const stage = usePage({ viewport: { width: WIDTH, height: 740 } });

it("stand in one row that opens at the place one is in, and can be pushed to the others", async () => {
  const { page, application } = stage;
  await makeAccount(page);
  await insertWorkshop(application.database.db);
  const places = page.getByRole("navigation", { name: "Places" });
  for (const [address, name, first] of [
    ["/week", "Week", "Week"],
    ["/setup", "Setup", "Week"],
  ] as const) {
    await page.goto(address);
    const here = places.getByRole("link", { name, exact: true });
    expect(await here.getAttribute("aria-current")).toBe("page");
    await expect.poll(async () => isInSight(await here.boundingBox())).toBe(true);
    const tops = await places
      .getByRole("link")
      .evaluateAll((links) => links.map((link) => Math.round(link.getBoundingClientRect().top)));
    expect(new Set(tops).size).toBe(1);
    // For the moment of opening the row holds on to the place one is in; a hand comes later than that.
    await places.getByRole("list").evaluate(async (row) => {
      await Promise.all(row.getAnimations().map((opening) => opening.finished));
    });
    await places.getByRole("link", { name: first }).scrollIntoViewIfNeeded();
    await expect
      .poll(async () => isInSight(await places.getByRole("link", { name: first }).boundingBox()))
      .toBe(true);
  }
});

function isInSight(box: { readonly x: number; readonly width: number } | null): boolean {
  return box !== null && box.x >= 0 && box.x + box.width <= WIDTH;
}
