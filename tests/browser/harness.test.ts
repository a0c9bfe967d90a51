import { describe, expect, it } from "vitest";
import { usePage } from "./page.ts";

const stage = usePage();

describe("the browser tests", () => {
  it("see the server's first page with its style and scripts at work", async () => {
    await stage.page.goto("/");
    expect(await stage.page.title()).toContain("Halfmold");
    expect(await stage.page.evaluate("typeof htmx")).toBe("object");
    expect(await stage.page.evaluate("getComputedStyle(document.body).fontFamily")).toContain("Alegreya");
  });
});
