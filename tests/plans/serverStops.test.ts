import { rmSync, writeFileSync } from "node:fs";
import { afterAll, expect, it } from "vitest";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { holdFile } from "./heldWorker.ts";
import { insertTightWorkshop } from "./tightWorkshop.ts";

const application = useApplication(
  createPlanner({ searchSeconds: 0.1, threads: 1, worker: new URL("./heldWorker.ts", import.meta.url) }),
);
afterAll(() => rmSync(holdFile, { force: true }));

it("a server that stops ends its search and answers whoever waits or watches; nothing is half kept", async () => {
  const owner = await firstOwner(application);
  await insertTightWorkshop(application);
  writeFileSync(holdFile, "");
  const waiting = owner.post("/plans", {}, { from: "/plan" });
  await expect.poll(async () => (await owner.get("/plan/search")).statusCode).toBe(200);
  const watching = owner.get("/plan/search/news");
  await application.app.close();
  const answer = await waiting;
  expect([answer.statusCode, answer.body.includes("No plan was made")]).toEqual([503, true]);
  // Not that it is over: the page asks again until there is a server.
  expect((await watching).body).not.toContain("event: over");
  expect(await application.database.sql`select 1 from plans`).toHaveLength(0);
});
