import type { Page } from "playwright-core";
import { blends, customers, sessions, shapes, timeZone, workshop } from "./dampAlmanac.ts";
import { button, fill, press } from "./hands.ts";

/** Sets the whole workshop up by the forms of Setup, from "How do you want to begin?" on. */
export async function setUpByForms(page: Page): Promise<void> {
  await openWorkshop(page);
  await addShapes(page);
  await addSessions(page);
  await addBlends(page);
  await addProducts(page);
  await addCustomers(page);
}

async function openWorkshop(page: Page): Promise<void> {
  await page.goto("/welcome/workshop");
  await fill(page, workshop);
  await page.getByLabel("Time zone", { exact: true }).selectOption(timeZone);
  await press(page, button(page, "Open the workshop"));
}

async function addShapes(page: Page): Promise<void> {
  for (const { name, dries, fields } of shapes) {
    await page.goto("/setup/shapes/new");
    await fill(page, { Name: name, ...fields });
    await page.getByRole("radio", { name: dries }).check();
    await press(page, button(page, "Add the shape"));
  }
}

async function addSessions(page: Page): Promise<void> {
  for (const { days, from, to, hands, mixing } of sessions) {
    await page.goto("/setup/sessions/new");
    for (const day of days) await page.getByLabel(day, { exact: true }).check();
    await fill(page, { From: from, To: to, "Hand minutes": hands });
    await page.getByLabel("Bowls are mixed in it").setChecked(mixing);
    await press(page, button(page, "Add these sessions"));
  }
}

async function addBlends(page: Page): Promise<void> {
  for (const { name, colour, pattern, shade } of blends) {
    await page.goto("/setup/blends/new");
    await fill(page, { Name: name, Shade: shade, Colour: colour });
    await page.getByRole("radio", { name: pattern, exact: true }).check();
    await press(page, button(page, "Add the blend"));
  }
}

async function addProducts(page: Page): Promise<void> {
  await page.goto("/setup/products");
  for (const blend of blends) {
    for (const shape of blend.shapes) {
      await page.getByLabel(`Make ${blend.name}, ${shape}`, { exact: true }).check();
    }
  }
  await press(page, button(page, "Take the ticked ones into the range"));
}

async function addCustomers(page: Page): Promise<void> {
  for (const { name, kind, parts } of customers) {
    await page.goto("/setup/customers/new");
    // The customer's own name; its contacts have names too.
    await page.getByLabel("Name", { exact: true }).first().fill(name);
    await page.getByRole("radio", { name: kind }).check();
    await page.getByLabel("Takes part deliveries").setChecked(parts);
    await press(page, button(page, "Add the customer"));
  }
}
