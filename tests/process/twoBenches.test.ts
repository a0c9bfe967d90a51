import { expect, it, onTestFinished } from "vitest";
import { furnish } from "../benchroom/benchRoom.ts";
import { ownerAccount } from "../build/application.ts";
import { insertWorkshop } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { HttpVisitor } from "./httpVisitor.ts";
import { ServerProcess, until } from "./serverProcess.ts";

const database = useDatabase();
const SESSION_SECRET = "a secret for tests only, long enough";

it("a bench watched at one server hears what is tapped at another, also after its ear was cut off", async () => {
  const [here, there] = [0, 1].map(
    () => new ServerProcess({ settings: { DATABASE_URL: database.url, SESSION_SECRET } }),
  );
  const address = (await there?.ready()) ?? "";
  const tapping = new HttpVisitor((await here?.ready()) ?? "");
  await tapping.post("/welcome", "/welcome", ownerAccount);
  await insertWorkshop(database.db);
  const { runId } = await furnish(database.db);

  const news = await watch(address);
  // The first one comes with the stream itself.
  await until("the stream is open", () => news.rings() === 1);
  await tapping.post(`/bench/runs/${runId}/start`, "/bench", {});
  await until("the tap is heard at the other server", () => news.rings() === 2);

  await database.sql`
    select pg_terminate_backend(pid) from pg_stat_activity where query ilike 'listen%' and datname = current_database()`;
  await until("it listens again, and rings for what may have been missed", () => news.rings() === 3);
  await tapping.post(`/bench/runs/${runId}/put-back`, "/bench", {});
  await until("the next tap is heard", () => news.rings() === 4);

  there?.signal("SIGTERM");
  expect(await there?.ended).toBe(0);
});

/** A stream of the bench's news at a server, of somebody who has signed in there; counts how often it has rung. */
async function watch(address: string) {
  const form = await fetch(`${address}/sign-in`);
  const csrf = /name="_csrf" value="([^"]+)"/.exec(await form.text())?.[1] ?? "";
  const cookieOf = (answer: Response) => answer.headers.getSetCookie()[0]?.split(";")[0] ?? "";
  const signedIn = await fetch(`${address}/sign-in`, {
    method: "POST",
    redirect: "manual",
    headers: { cookie: cookieOf(form) },
    body: new URLSearchParams({ ...ownerAccount, _csrf: csrf, form_token: crypto.randomUUID(), next: "" }),
  });
  const ending = new AbortController();
  onTestFinished(() => ending.abort());
  const stream = await fetch(`${address}/bench/news`, {
    headers: { cookie: cookieOf(signedIn), accept: "text/event-stream" },
    signal: ending.signal,
  });
  expect(stream.headers.get("content-type")).toContain("text/event-stream");
  let heard = "";
  const listening = async () => {
    for await (const part of stream.body ?? []) heard += new TextDecoder().decode(part);
  };
  listening().catch(() => {
    // The test is over, or the server.
  });
  return { rings: () => heard.split("event: bench").length - 1 };
}
