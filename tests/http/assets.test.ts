import { describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";

const application = useApplication();

describe("styles, fonts and scripts", () => {
  it("are served to anybody, for good, under an address that changes with them", async () => {
    const page = await application.stranger().get("/welcome");
    const addresses = [...page.body.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(
      (match) => match[1] ?? "",
    );
    expect(addresses).toHaveLength(4);
    for (const address of addresses) {
      const asset = await application.stranger().get(address);
      expect([address, asset.statusCode]).toEqual([address, 200]);
      expect(asset.headers["cache-control"]).toBe("public, max-age=31536000, immutable");
    }
  });

  it("lead from the sheet to layers and faces that are there", async () => {
    const page = await application.stranger().get("/welcome");
    const sheet = /href="(\/assets\/[^"]+\.css)"/.exec(page.body)?.[1] ?? "";
    const waiting = [sheet];
    const seen = new Set<string>();
    for (let address = waiting.pop(); address; address = waiting.pop()) {
      if (seen.has(address)) continue;
      seen.add(address);
      const asset = await application.stranger().get(address);
      expect([address, asset.statusCode]).toEqual([address, 200]);
      if (!address.endsWith(".css")) continue;
      for (const [, relative] of asset.body.matchAll(/(?:@import |url\()"([^"]+)"/g)) {
        waiting.push(new URL(relative ?? "", `http://workshop${address}`).pathname);
      }
    }
    expect([...seen].filter((address) => address.endsWith(".woff2"))).not.toHaveLength(0);
  });

  it("hide everything else of the folders they come from", async () => {
    const page = await application.stranger().get("/welcome");
    const root = /\/assets\/[0-9a-f]+/.exec(page.body)?.[0] ?? "";
    for (const outside of [
      "/styles/../../package.json",
      "/styles/%2e%2e/%2e%2e/package.json",
      "/htmx/",
      "/nothing",
    ]) {
      const answer = await application.stranger().get(root + outside);
      expect(answer.statusCode).not.toBe(200);
    }
  });
});
