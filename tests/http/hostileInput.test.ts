import { randomUUID } from "node:crypto";
import { subscribe, unsubscribe } from "node:diagnostics_channel";
import type { FastifyInstance, LightMyRequestResponse } from "fastify";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";

/** Open to anybody; everything else asks strangers to sign in. */
const PUBLIC = [
  "GET /calendar/:secret",
  "GET /health",
  "GET /sign-in",
  "GET /stockist/:secret",
  "GET /stockist/:secret/orders/:reference",
  "GET /welcome",
  "POST /sign-in",
  "POST /sign-out",
  "POST /stockist/:secret",
  "POST /stockist/:secret/promise",
  "POST /stockist/:secret/reckoning",
  "POST /welcome",
];

/** What a helper may see and do; everything else is the owner's. */
const HELPERS = [
  "GET /",
  "GET /bench",
  "GET /bench/air",
  "GET /bench/lots/:id/pressing",
  "GET /bench/lots/:id/readiness",
  "GET /bench/lots/:id/unmolding",
  "GET /bench/news",
  "GET /bench/runs/:id/sheet",
  "GET /delivery",
  "GET /delivery/:deliveryId",
  "GET /delivery/:deliveryId/parcels/:parcelId",
  "GET /delivery/:deliveryId/parcels/new",
  "GET /delivery/:deliveryId/slip.pdf",
  "GET /delivery/crates/:orderId",
  "GET /delivery/orders/:orderId",
  "GET /delivery/round",
  "GET /delivery/round/sheet.pdf",
  "GET /labels",
  "GET /labels/lots/:lotId",
  "GET /labels/lots/:lotId/cards",
  "GET /labels/lots/:lotId/cards.pdf",
  "GET /labels/lots/:lotId/labels.pdf",
  "GET /labels/orders/:orderId/boxes",
  "GET /labels/orders/:orderId/boxes.pdf",
  "GET /labels/orders/:orderId/cards",
  "GET /labels/orders/:orderId/cards.pdf",
  "GET /labels/products/:productId",
  "GET /labels/products/:productId/labels.pdf",
  "GET /labels/runs/:runId/cards",
  "GET /labels/runs/:runId/cards.pdf",
  "GET /markets/:id/count",
  "GET /markets/:id/counted",
  "GET /markets/of-order/:orderId",
  "GET /packing",
  "GET /packing/:orderId",
  "GET /packing/gathered",
  "GET /packing/gathered/list.pdf",
  "GET /packing/news",
  "GET /recipes",
  "GET /recipes/:id",
  "GET /shelf",
  "GET /shelf/:lotId",
  "GET /shelf/:lotId/hold",
  "GET /shelf/drying-stock",
  "GET /shelf/places",
  "GET /shelf/ready-stock",
  "GET /supplies",
  "GET /supplies/:id",
  "GET /supplies/runs/:runId",
  "GET /week",
  "GET /week/promises",
  "POST /bench/air",
  "POST /bench/lots/:id/pressing",
  "POST /bench/lots/:id/put-back",
  "POST /bench/lots/:id/readiness",
  "POST /bench/lots/:id/still-damp",
  "POST /bench/lots/:id/turning",
  "POST /bench/lots/:id/turning/put-back",
  "POST /bench/lots/:id/unmolding",
  "POST /bench/runs/:id/bowls",
  "POST /bench/runs/:id/bowls/put-back",
  "POST /bench/runs/:id/put-back",
  "POST /bench/runs/:id/sheet",
  "POST /bench/runs/:id/sheet/ticks",
  "POST /bench/runs/:id/start",
  "POST /delivery/:deliveryId/arrival",
  "POST /delivery/:deliveryId/parcels",
  "POST /delivery/:deliveryId/parcels/:parcelId",
  "POST /delivery/:deliveryId/parcels/:parcelId/removal",
  "POST /delivery/crates/:orderId/loading",
  "POST /delivery/crates/:orderId/unloading",
  "POST /delivery/orders/:orderId/shipment",
  "POST /delivery/round/departure",
  "POST /delivery/round/handing-over",
  "POST /delivery/round/taking-back",
  "POST /markets/:id/count",
  "POST /packing/:orderId/completion",
  "POST /packing/:orderId/lines/:lineId/lots/:lotId/unpacking",
  "POST /packing/:orderId/lines/:lineId/pieces",
  "POST /packing/:orderId/notes",
  "POST /packing/:orderId/notes/:noteId/removal",
  "POST /packing/:orderId/scans",
  "POST /shelf/:lotId/count",
  "POST /shelf/:lotId/hold",
  "POST /shelf/:lotId/loss",
  "POST /shelf/:lotId/place",
  "POST /shelf/drying-stock",
  "POST /shelf/places",
  "POST /shelf/ready-stock",
  "POST /supplies/:id/count",
  "POST /supplies/:id/loss",
  "POST /supplies/:id/receipts",
  "POST /supplies/runs/:runId/lots",
];

interface Route {
  readonly method: "GET" | "POST";
  readonly url: string;
}

const nameOf = ({ method, url }: Route) => `${method} ${url}`;

const isOurs = (method: string): method is Route["method"] => method === "GET" || method === "POST";

/** Every route the server registers but for styles, fonts and scripts, whoever registers it. */
const routes: Route[] = [];
const listen = (message: unknown) => {
  const { fastify } = message as { fastify: FastifyInstance };
  fastify.addHook("onRoute", ({ method, url }) => {
    for (const one of [method].flat())
      if (isOurs(one) && !url.startsWith("/assets/")) routes.push({ method: one, url });
  });
};
subscribe("fastify.initialization", listen);
afterAll(() => unsubscribe("fastify.initialization", listen));

const application = useApplication(createPlanner({ searchSeconds: 0.01, holdUpSeconds: 0.01 }));
let owner: Visitor;
let helper: Visitor;
/** Names of the fields of every form. */
const fields = new Set<string>();

beforeAll(async () => {
  owner = await firstOwner(application);
  await owner.post("/welcome/sample", {}, { from: "/welcome/workshop" });
  helper = await newHelper(application, owner);
  await owner.post("/plans", {}, { from: "/plan" });
  await owner.post("/plans/1/acceptance", {}, { from: "/plans/1" });
  await owner.post("/bench/runs/1/start", {}, { from: "/bench" });
  for (const { url } of pages().filter((route) => !isFile(route.url))) {
    const page = await owner.get(filled(url, "1"));
    for (const [, name] of page.body.matchAll(/<(?:input|select|textarea|button)[^>]* name="([^"]+)"/g))
      if (name && name !== "_csrf" && name !== "form_token") fields.add(name);
  }
}, 180_000);

const pages = () => routes.filter(({ method }) => method === "GET");
const forms = () => routes.filter(({ method }) => method === "POST");
/** A sheet to take home carries no form. */
const isFile = (url: string) => /\.(?:csv|pdf|ics)$/.test(url);
const filled = (url: string, id: string) => url.replaceAll(/:\w+/g, id);

/** As they stand in a path, percent-encoded. */
const HOSTILE_IDS = [
  ..."0 -1 1.5 01 999999999 2147483648 1e3 %00 1%0A abc ..%2F1 %ED%A0%80 '%20or%201=1--".split(" "),
  "9".repeat(300),
];

const HOSTILE_TEXTS = [
  ..."-1 0 1.5 1e9 99999999999999999999 NaN Infinity 0x10 \u0661\u0662 100000 2147483647 2147483648".split(
    " ",
  ),
  ..."null undefined __proto__ constructor [object\u00a0Object] <script>alert(1)</script> {{7*7}} %00".split(
    " ",
  ),
  ..."2027-02-30 9999-12-31 0000-00-00 -2027-03-05 24:00 25:61 \ud800 \u202e\ud83d\udec1".split(" "),
  ...["", " ", "\u0000", "a\u0000b", "\n\r\t", "'; drop table orders; --", "a".repeat(5_000)],
];

/** What a form might rightly hold, so that the hostile texts get past the first checks. */
const FAIR_TEXTS = [
  ..."1 2 3 12 0 0.5 2027-03-05 2027-03-08 09:00 17:30 yes parcel shop market complete as-ready half none".split(
    " ",
  ),
  ..."confirm draft plain #c98a3d UTC mold tray cracked resting ready 1x1 Moss moss@halfmold.example W-200".split(
    " ",
  ),
];

describe("every route", () => {
  it("answers hostile ids and queries as if nothing were there", async () => {
    const names = [
      "sheet",
      "side",
      "first",
      "count",
      "units",
      "paper",
      "kind",
      "size",
      "state",
      "customer",
      "page",
      "taken",
      "q",
      "next",
      "order",
      "chosen",
      "colour",
      "pattern",
    ];
    const ends = [
      `?${names.map((name) => `${name}=%00&${name}=-1`).join("&")}`,
      `?${names.map((name) => `${name}=${"9".repeat(900)}`).join("&")}`,
      "?page=99999999&customer=999999999&q=%ED%A0%80%25_&state[a]=b",
    ];
    const troubles: string[] = [];
    for (const { url } of pages()) {
      const ids = url.includes(":") ? HOSTILE_IDS : [];
      for (const end of [...ids.map((id) => filled(url, id)), ...ends.map((end) => filled(url, "1") + end)])
        troubles.push(...troubleWith(`GET ${end.slice(0, 80)}`, await owner.get(end)));
    }
    expect(troubles).toEqual([]);
  });

  it("answers hostile forms of the owner in words, and never fails", async () => {
    expect(await sendAll(owner, forms())).toEqual([]);
  });

  it("answers hostile forms of a helper in words, and never fails", async () => {
    const hers = forms().filter((route) => HELPERS.includes(nameOf(route)));
    expect(await sendAll(helper, hers)).toEqual([]);
  });
});

describe("a stranger", () => {
  it("gets the public pages and is led to sign in from everywhere else", async () => {
    const open: string[] = [];
    for (const route of routes) {
      const answer = await application.app.inject({ method: route.method, url: filled(route.url, "1") });
      expect([nameOf(route), troubleWith(nameOf(route), answer)]).toEqual([nameOf(route), []]);
      if (
        !answer.headers.location?.toString().startsWith("/sign-in?") &&
        answer.headers.location !== "/sign-in"
      )
        open.push(nameOf(route));
    }
    expect(open.sort()).toEqual(PUBLIC.filter((name) => name !== "GET /welcome"));
  });
});

describe("a helper", () => {
  it("is turned away from every page and form that is not hers", async () => {
    const token = await helper.csrfToken("/week");
    const allowed: string[] = [];
    for (const route of routes.filter((known) => !PUBLIC.includes(nameOf(known)))) {
      const url = filled(route.url, "1");
      const answer = await send(helper, route.method, url, { _csrf: token, form_token: randomUUID() });
      expect(troubleWith(nameOf(route), answer)).toEqual([]);
      if (answer.statusCode !== 403) allowed.push(nameOf(route));
    }
    expect(allowed.sort()).toEqual(HELPERS);
  });
});

describe("what a helper reads", () => {
  it("holds nothing private of a customer but the address to ship to, nor anybody's e-mail, nor an order's note", async () => {
    const { sql } = application.database;
    await sql`update customers set notes = 'PRIVATE notes'`;
    await sql`insert into customer_contacts (customer_id, name, role, phone, email)
      select id, 'PRIVATE contact', 'PRIVATE role', 'PRIVATE phone', 'PRIVATE@halfmold.example' from customers`;
    await sql`update orders set note = 'PRIVATE note', customer_note = 'PRIVATE wish'`;
    await sql`update people set email = 'PRIVATE' || id || '@halfmold.example'`;
    const shown: string[] = [];
    for (const { url } of pages().filter((route) => HELPERS.includes(nameOf(route)))) {
      for (const id of idsToRead(url)) {
        const page = await helper.get(filled(url, id));
        if (/PRIVATE/i.test(page.body)) shown.push(filled(url, id));
      }
    }
    expect(shown).toEqual([]);
    const seenByOwner = (await owner.get("/setup/customers/1")).body;
    expect(seenByOwner).toContain("PRIVATE notes");
    expect(seenByOwner).toContain("PRIVATE contact");
  });
});

/** The first dozen of what a page is about; of a drawn paper, whose words are packed, only the first for what it is called. */
function idsToRead(url: string): readonly string[] {
  if (!url.includes(":")) return [""];
  return Array.from({ length: url.endsWith(".pdf") ? 1 : 12 }, (_, place) => String(place + 1));
}

/** Forms that end or change the sign-in itself, which the others need. */
const OF_THE_DOOR = ["POST /sign-in", "POST /sign-out", "POST /welcome"];

/** Each route gets every hostile text in all fields at once, and then fair and hostile texts mixed by dice. */
async function sendAll(visitor: Visitor, all: readonly Route[]): Promise<readonly string[]> {
  const _csrf = await visitor.csrfToken("/week");
  const names = [...fields];
  const troubles: string[] = [];
  const dice = diceFrom(20_270_301);
  for (const route of all.filter((known) => !OF_THE_DOOR.includes(nameOf(known)))) {
    const bodies: Record<string, string | readonly string[]>[] = [
      {},
      ...HOSTILE_TEXTS.filter((_, place) => place % 8 === dice(8)).map((text) => inAll(names, () => text)),
      inAll(names, () => ["1", "\u0000", "-1"]),
      ...Array.from({ length: 5 }, () =>
        inAll(names, () => pick(dice, dice(4) === 0 ? HOSTILE_TEXTS : FAIR_TEXTS)),
      ),
    ];
    // All at once: hostile people do not wait for each other either. Plans but a few, as more may rightly have to wait.
    const sent = route.url === "/plans" ? bodies.slice(0, 3) : bodies;
    const answers = sent.map(async (body) => {
      // Odd, as the helper is the second person and must not be said goodbye to.
      const url = filled(route.url, dice(8) === 0 ? pick(dice, HOSTILE_IDS) : String(1 + 2 * dice(16)));
      const answer = await send(visitor, "POST", url, { ...body, _csrf, form_token: randomUUID() });
      return troubleWith(`${nameOf(route)} ${JSON.stringify(body).slice(0, 300)}`, answer);
    });
    troubles.push(...(await Promise.all(answers)).flat());
  }
  return troubles;
}

function inAll(names: readonly string[], value: () => string | readonly string[]) {
  return Object.fromEntries(names.map((name) => [name, value()]));
}

function send(
  visitor: Visitor,
  method: "GET" | "POST",
  url: string,
  body: Readonly<Record<string, string | readonly string[]>>,
): Promise<LightMyRequestResponse> {
  if (method === "GET") return visitor.get(url);
  const pairs = Object.entries(body).flatMap(([name, value]) => [value].flat().map((one) => [name, one]));
  return visitor.send({
    method,
    url,
    headers: { "content-type": "application/x-www-form-urlencoded" },
    payload: new URLSearchParams(pairs).toString(),
  });
}

/** What an answer must never be or say. */
function troubleWith(what: string, { statusCode, body }: LightMyRequestResponse): readonly string[] {
  if (statusCode >= 500) return [`${statusCode} for ${what}`];
  const inside =
    /\n\s+at \S+ ?\(?[^\n]*:\d+:\d+|node_modules|Failed query|Invalid (?:input|option)|expected \w+, received/.exec(
      body,
    );
  return inside ? [`"${inside[0].trim()}" shown for ${what}`] : [];
}

function pick<Item>(dice: (sides: number) => number, items: readonly Item[]): Item {
  const item = items[dice(items.length)];
  if (item === undefined) throw new Error("Nothing to pick from");
  return item;
}

/** The same throws in every run (a linear congruential generator, Numerical Recipes, second edition, 7.1). */
function diceFrom(seed: number): (sides: number) => number {
  let state = seed >>> 0;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}
