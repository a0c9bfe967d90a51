import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { firstOwner, useApplication } from "../build/application.ts";
import { insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { untilWaiting } from "../db/untilWaiting.ts";

const application = useApplication();
let owner: Visitor;

beforeAll(async () => {
  owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
});

const newcomer = (email: string) => ({ name: "Moss Tansy", email, password: "lavender before dark" });
const letIn = (visitor: Visitor, email: string, formToken: string) =>
  visitor.post("/setup/people", newcomer(email), { from: "/setup/people", formToken });
const helpers = () => application.database.sql`select email from people where role = 'helper' order by id`;

describe("a form with a number of its own", () => {
  it("is answered again without acting again, and then leads to the same place", async () => {
    const formToken = randomUUID();
    const first = await letIn(owner, "moss@halfmold.example", formToken);
    const again = await letIn(owner, "moss@halfmold.example", formToken);
    expect([first.headers.location, again.headers.location]).toEqual(["/setup/people", "/setup/people"]);
    expect(await helpers()).toHaveLength(1);
  });

  it("may be corrected and sent under the same number after a refusal, which left no trace", async () => {
    const formToken = randomUUID();
    const refused = await letIn(owner, "moss@halfmold.example", formToken);
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain("Somebody here has this address already.");
    expect(
      await application.database.sql`select 1 from form_receipts where form_token = ${formToken}`,
    ).toHaveLength(0);
    expect((await letIn(owner, "tansy@halfmold.example", formToken)).statusCode).toBe(303);
    expect((await helpers()).map((row) => row.email)).toEqual([
      "moss@halfmold.example",
      "tansy@halfmold.example",
    ]);
  });

  it("waits for its first sending when both arrive at once", async () => {
    const formToken = randomUUID();
    const gate = await application.database.sql.reserve();
    await gate`begin`;
    await gate`lock table people in share row exclusive mode`;
    const sendings = Promise.all([1, 2].map(() => letIn(owner, "late@halfmold.example", formToken)));
    // One waits for the table, the other for the first one's receipt: the overlap is certain.
    await untilWaiting(application.database.sql, 2);
    await gate`commit`;
    gate.release();
    expect((await sendings).map((answer) => answer.statusCode)).toEqual([303, 303]);
    expect((await helpers()).filter((row) => row.email === "late@halfmold.example")).toHaveLength(1);
  });

  it("is not taken for another form that has the same number", async () => {
    const formToken = randomUUID();
    await letIn(owner, "pip@halfmold.example", formToken);
    const other = await owner.post(
      "/setup/customers",
      { name: "Pip & Marrow", kind: "shop", priorityWeight: "1" },
      { from: "/setup/customers/new", formToken },
    );
    expect(other.statusCode).toBe(400);
    expect(await application.database.sql`select 1 from customers`).toHaveLength(0);
  });

  it("is refused under a number that is none, or somebody else's", async () => {
    expect((await letIn(owner, "none@halfmold.example", "not-a-number")).statusCode).toBe(400);
    const formToken = randomUUID();
    await letIn(owner, "first@halfmold.example", formToken);
    const stranger = application.stranger();
    const answer = await stranger.post("/welcome", newcomer("thief@halfmold.example"), { formToken });
    expect(answer.statusCode).toBe(400);
  });
});
