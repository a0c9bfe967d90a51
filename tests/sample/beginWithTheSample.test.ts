import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import { firstOwner, ownerAccount, signedIn, useApplication } from "../build/application.ts";

const application = useApplication();

describe("beginning with the sample workshop", () => {
  it("is done once, however often the form is sent at once", async () => {
    const owner = await firstOwner(application);
    const formToken = randomUUID();
    const sendings = await Promise.all(
      [1, 2].map(() => owner.post("/welcome/sample", {}, { from: "/welcome/workshop", formToken })),
    );
    expect(sendings.map((answer) => [answer.statusCode, answer.headers.location])).toEqual([
      [303, "/week"],
      [303, "/week"],
    ]);
    const again = await owner.post("/welcome/sample", {}, { from: "/week" });
    expect(again.headers.location).toBe("/week");
    const [count] = await application.database.sql`select count(*)::integer as orders from orders`;
    expect(count?.orders).toBe(16);
  });

  it("tells of the week at once", async () => {
    const page = await (await signedIn(application, ownerAccount)).get("/week");
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain("wait for a plan");
  });
});
