import { chmodSync, mkdirSync, readdirSync } from "node:fs";
import { expect, inject, it } from "vitest";
import { newDataFolder } from "../process/dataFolder.ts";
import { HttpVisitor } from "../process/httpVisitor.ts";
import { ServerProcess } from "../process/serverProcess.ts";

it("the demo lets its owner in to a sample week, and leaves nothing behind when it is stopped", async () => {
  const folder = newDataFolder();
  mkdirSync(folder);
  // As root the database's user has to pass through.
  chmodSync(folder, 0o711);
  const demo = new ServerProcess({
    command: ["node", inject("builtCommand"), "demo"],
    settings: { TMPDIR: folder },
  });
  const visitor = new HttpVisitor(await demo.ready());
  const [, email = "", password = ""] = /Sign in as (\S+) with the password (\S+)/.exec(demo.output) ?? [];
  await visitor.post("/sign-in", "/sign-in", { email, password, next: "" });
  expect(await (await visitor.get("/week")).text()).toContain("wait for a plan");

  demo.signal("SIGINT");
  expect(await demo.ended).toBe(0);
  expect(readdirSync(folder).filter((name) => name.startsWith("halfmold-demo-"))).toEqual([]);
});
