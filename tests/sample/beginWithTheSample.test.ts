import { randomUUID } from "node:crypto";
import { describe, expect, it, vi } from "vitest";
import { firstOwner, ownerAccount, signedIn, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import { mistakeBeside } from "../workshop/setupRoom.ts";

const application = useApplication();

describe("beginning with the sample workshop", () => {
  it("says beside the time zone that the database does not know the server's own", async () => {
    const owner = await firstOwner(application);
    // The platform takes the name in any case, the database only as it is written.
    const platform = vi.spyOn(Intl.DateTimeFormat.prototype, "resolvedOptions");
    platform.mockReturnValue({ timeZone: "europe/lisbon" } as Intl.ResolvedDateTimeFormatOptions);
    const answer = await owner.post("/welcome/sample", {}, { from: "/welcome/workshop" });
    platform.mockRestore();
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "timeZone")).toContain("the sample would be dated in");
    expect((await owner.get("/week")).headers.location).toBe("/welcome/workshop");
  });

  it("is done once, however often the form is sent at once", async () => {
    const owner = await signedIn(application, ownerAccount);
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
    // The standing order's first draft came with the look at the week.
    const bySource = await application.database
      .sql`select source, count(*)::integer as orders from orders group by source order by source`;
    expect(bySource).toEqual([
      { source: "standing", orders: 1 },
      { source: "typed", orders: 22 },
    ]);
  });

  it("looks back on weeks in which every promise but one was kept", async () => {
    const page = textOf((await (await signedIn(application, ownerAccount)).get("/delivery/promises")).body);
    expect(page).toMatch(
      /Late or short W-093 for Madam Fogbottom.s Parlour, promised for .+: 0 of 18 left by then/,
    );
    expect(page).toContain("The Lamplit Otter 2 of 2 (100 %)");
  });

  it("tells of the week at once", async () => {
    const page = await (await signedIn(application, ownerAccount)).get("/week");
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain("wait for a plan");
    expect(textOf(page.body)).toContain("One draft waits for your yes W-115 The Teaspoon Museum Shop");
  });
});
