import type { Locator, Page } from "playwright-core";
import { expect } from "vitest";
import { ownerAccount } from "../build/application.ts";

/*
 * What a maker's hands do in the browser, by the words that stand on the page; with and without JavaScript alike.
 */

/** Follows a link or presses a button and waits until another page, or other content, stands there. */
export async function press(page: Page, control: { click(): Promise<void> }): Promise<void> {
  const seen = await page.locator("main h1").elementHandle();
  await control.click();
  await seen?.waitForElementState("hidden").catch(() => {
    // The whole document was replaced, and the heading with it.
  });
  await page.locator("main h1").waitFor();
}

export function button(page: Page, name: string | RegExp): Locator {
  return page
    .locator("main")
    .getByRole("button", typeof name === "string" ? { name, exact: true } : { name });
}

/** Types into fields by their labels. */
export async function fill(page: Page, fields: Readonly<Record<string, string>>): Promise<void> {
  for (const [label, typed] of Object.entries(fields))
    await page.getByLabel(label, { exact: true }).fill(typed);
}

/** The page's answer in a sentence. */
export async function heading(page: Page): Promise<string> {
  return (await page.locator("main h1").textContent()) ?? "";
}

/** Makes the owner's account on an empty server. */
export async function makeAccount(page: Page): Promise<void> {
  await page.goto("/");
  const { name, email, password } = ownerAccount;
  await fill(page, { Name: name, "E-mail address": email, Password: password });
  await press(page, button(page, "Make the owner's account"));
}

/** Watches a search until it is over and its plan stands there by itself. */
export async function openPlan(page: Page): Promise<void> {
  // The form's answer and the end of the search both lead there: the one that comes second ends the first.
  await expect.poll(() => page.url(), { timeout: 30_000 }).toMatch(/\/plans\/\d+(\?.*)?$/);
  await page.locator("main h1").waitFor();
}

/** Signs the owner in as she does it, and leads to her week. */
export async function signInByForm(page: Page): Promise<void> {
  await page.goto("/sign-in");
  await fill(page, { "E-mail address": ownerAccount.email, Password: ownerAccount.password });
  await press(page, button(page, "Sign in"));
}

/** Signs the owner in for tests about something else: the form is sent without being drawn, and the page stays where it is. */
export async function signIn(page: Page): Promise<void> {
  const form = await (await page.request.get("/sign-in")).text();
  const hidden = (name: string) => new RegExp(`name="${name}" value="([^"]+)"`).exec(form)?.[1] ?? "";
  const { email, password } = ownerAccount;
  const answer = await page.request.post("/sign-in", {
    form: { _csrf: hidden("_csrf"), form_token: hidden("form_token"), email, password, next: "" },
    maxRedirects: 0,
  });
  expect(answer.status()).toBe(303);
}

/** Presses the first button of that name until there is none; returns how many times. */
export async function pressAll(page: Page, name: string | RegExp): Promise<number> {
  let times = 0;
  for (; (await button(page, name).count()) > 0; times += 1) await press(page, button(page, name).first());
  return times;
}
