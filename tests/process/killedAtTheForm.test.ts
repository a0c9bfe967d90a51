import { randomUUID } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import { expect, it } from "vitest";
import { Random } from "../../server/planning/search/random.ts";
import { openDatabase, usedDataFolder } from "./dataFolder.ts";
import { HttpVisitor } from "./httpVisitor.ts";
import { type ServerProcess, startOn } from "./serverProcess.ts";

const wren = { email: "wren@halfmold.example", password: "sea fennel and salt" };

/** The longest a kill waits after an order was sent; entering one takes some tens of milliseconds. */
const LONGEST_MS = 60;

/** A form somebody filled in: sent again it is the same form. */
interface OrderForm {
  /** Tells the orders apart; their numbers are given out by the server, so that a second one would not be noticed. */
  readonly note: string;
  readonly form_token: string;
}

it("keeps each acknowledged order once, and takes the cut-off one once when it is sent again, whenever the server is killed", async () => {
  const folder = usedDataFolder();
  const random = new Random(20_270_301);
  const entered: string[] = [];
  let desk = await beginWithSample(folder);
  for (let round = 1; round <= 3; round += 1) {
    const { acknowledged, cutOff } = await enterUntilKilled(desk, random, round);
    entered.push(...acknowledged);

    desk = await openAgain(folder);
    expect(await notesOf(folder)).toEqual(expect.arrayContaining(entered));
    const token = await desk.visitor.csrfToken("/orders/new");
    for (const sending of ["again", "and once more"]) {
      expect((await send(desk.visitor, token, cutOff)).status, sending).toBe(303);
    }
    entered.push(cutOff.note);
    expect(await notesOf(folder)).toEqual([...entered].sort());
  }
  await nothingIsHalfDone(folder, entered.length);
}, 180_000);

interface Desk {
  readonly server: ServerProcess;
  readonly visitor: HttpVisitor;
}

async function beginWithSample(folder: string): Promise<Desk> {
  const server = await startOn(folder);
  const visitor = new HttpVisitor(await server.ready());
  await visitor.post("/welcome", "/welcome", { name: "Wren Oddfellow", ...wren });
  await visitor.post("/welcome/sample", "/welcome/workshop", {});
  return { server, visitor };
}

async function openAgain(folder: string): Promise<Desk> {
  const server = await startOn(folder);
  const visitor = new HttpVisitor(await server.ready());
  await visitor.post("/sign-in", "/sign-in", { ...wren, next: "" });
  return { server, visitor };
}

/** Enters one order after the other; at some moment after the third was sent the server is killed. */
async function enterUntilKilled({ server, visitor }: Desk, random: Random, round: number) {
  const token = await visitor.csrfToken("/orders/new");
  const acknowledged: string[] = [];
  for (let count = 1; ; count += 1) {
    const form = { note: `round ${round}, order ${count}`, form_token: randomUUID() };
    const sending = send(visitor, token, form).catch(() => null);
    if (count === 3) {
      await pause(random.below(LONGEST_MS));
      server.signal("SIGKILL");
    }
    const answer = await sending;
    if (answer === null) return { acknowledged, cutOff: form };
    expect(answer.status).toBe(303);
    acknowledged.push(form.note);
  }
}

/** The sample's first customer orders two products for the next week. */
function send(visitor: HttpVisitor, csrfToken: string, form: OrderForm): Promise<Response> {
  const nextWeek = new Date(Date.now() + 7 * 86_400_000).toISOString().slice(0, 10);
  return visitor.send("/orders/new", {
    _csrf: csrfToken,
    ...form,
    customer: "1",
    terms: "",
    ship_by: nextWeek,
    reference: "",
    product: ["1", "2"],
    units: ["12", "18"],
    save: "confirm",
  });
}

async function notesOf(folder: string): Promise<readonly string[]> {
  const rows = await openDatabase(folder)`
    select note from orders where note like 'round %' order by note collate "C"`;
  return rows.map((row) => row.note);
}

async function nothingIsHalfDone(folder: string, count: number): Promise<void> {
  const sql = openDatabase(folder);
  const whole = await sql`select orders.id from orders join order_lines on order_id = orders.id
    where note like 'round %' group by orders.id having count(*) = 2 and sum(units) = 30`;
  expect(whole).toHaveLength(count);
  const written = await sql`select 1 from changes join orders on orders.id = subject_id
    where subject = 'order' and note like 'round %'`;
  expect(written).toHaveLength(count);
  expect(await sql`select 1 from form_receipts where location is null`).toEqual([]);
  expect(await sql`select 1 from lot_balances where units < 0`).toEqual([]);
}
