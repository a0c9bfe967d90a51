import { describe, expect, test } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import type { Decisions, Plan } from "../../server/planning/plan.ts";
import { caseFromJson } from "./caseFiles.ts";
import { type JsonCase, type JsonPlan, judge } from "./independentChecker.ts";
import { nineBalls, nothing, oneBowl, oneRun, planOf, withBall, withSession } from "./oneBowl.ts";

/** Rules a plan breaks, each once, by the engine's checker and by the independent one. */
function brokenRules(json: JsonCase, plan: Plan): { readonly ours: string[]; readonly theirs: string[] } {
  return {
    ours: [...new Set(checkPlan(caseFromJson(json), plan).map((violation) => violation.rule))],
    theirs: [...new Set(judge(json, plan as unknown as JsonPlan).complaints.map(([rule]) => rule))],
  };
}

const allowed = { ours: [], theirs: [] };
const breaks = (rule: string) => ({ ours: [rule], theirs: [rule] });

describe("a plan exactly at a limit is allowed, one beyond it breaks that limit and no other", () => {
  const limits: readonly [what: string, rule: string, atLimit: JsonCase, beyond: JsonCase][] = [
    ["molds in halves: 2 x 5 - 1 = 9", "molds", withBall({ moldSets: 5 }), withBall({ moldSets: 4 })],
    [
      "whole molds",
      "molds",
      withBall({ driesIn: "whole", moldSets: 9 }),
      withBall({ driesIn: "whole", moldSets: 8 }),
    ],
    [
      "one half set holds one piece, none holds none",
      "molds",
      { ...withBall({ moldSets: 1 }), orders: [] },
      { ...withBall({ moldSets: 0 }), orders: [] },
    ],
    ["trays: 9 pieces, 4 a tray", "trays", { ...oneBowl, trays: 3 }, { ...oneBowl, trays: 2 }],
    // 20 mixing + 10 cleaning + 9 x (0.5 forming + 0.1 turning) = 35.4
    [
      "hands where it is formed",
      "hands",
      withSession(0, { handMinutes: 35.4 }),
      withSession(0, { handMinutes: 35.3 }),
    ],
    // 9 x 0.1 turning = 0.9
    [
      "hands where it is turned",
      "hands",
      withSession(1, { handMinutes: 0.9 }),
      withSession(1, { handMinutes: 0.8 }),
    ],
    // 9 x 0.2 unmolding = 1.8
    [
      "hands where it is unmolded",
      "hands",
      withSession(2, { handMinutes: 1.8 }),
      withSession(2, { handMinutes: 1.7 }),
    ],
    // 9 x 1 packing = 9
    [
      "hands where it is packed",
      "hands",
      withSession(3, { handMinutes: 9 }),
      withSession(3, { handMinutes: 8.9 }),
    ],
    [
      "bowls that fit the session",
      "mixers",
      { ...oneBowl, bowlMinutes: 240 },
      { ...oneBowl, bowlMinutes: 241 },
    ],
    ["a mixer", "mixers", { ...oneBowl, mixers: 1 }, { ...oneBowl, mixers: 0 }],
    ["most mix in a bowl: 900 g", "bowls", { ...oneBowl, bowlGrams: 900 }, { ...oneBowl, bowlGrams: 899 }],
    [
      "least mix in a bowl: 900 g",
      "bowls",
      { ...oneBowl, minBowlGrams: 900 },
      { ...oneBowl, minBowlGrams: 901 },
    ],
    ["mixing", "mixing", withSession(0, { mixing: true }), withSession(0, { mixing: false })],
    [
      "time to dry and rest",
      "drying-time",
      { ...oneBowl, sessions: oneBowl.sessions.slice(0, 4) },
      { ...oneBowl, sessions: oneBowl.sessions.slice(0, 3) },
    ],
  ];

  test.each(limits)("%s", (_, rule, atLimit, beyond) => {
    const decisions = atLimit.orders.length > 0 ? oneRun : onePiece;
    expect(brokenRules(atLimit, planOf(atLimit, decisions))).toEqual(allowed);
    const plan = {
      ...planOf(atLimit, decisions),
      ...(rule === "drying-time" ? {} : planOf(beyond, decisions)),
    };
    expect(brokenRules(beyond, plan)).toEqual(breaks(rule));
  });
});

const onePiece: Decisions = {
  runs: [{ session: 0, blend: "cedar", bowls: 1, pieces: [{ product: "cedar/ball", units: 1 }] }],
  supplies: [],
};

describe("what is drying already", () => {
  const drying = {
    product: "cedar/ball",
    units: 10,
    trays: 1,
    unmoldAt: "2027-03-01T14:00",
    packAt: "2027-03-02T09:00",
  };

  test("may exceed a limit, and then nothing may be added to it", () => {
    const json = { ...oneBowl, drying: [drying] };
    expect(brokenRules(json, planOf(json, nothing))).toEqual(allowed);
    expect(brokenRules(json, planOf(json, oneRun))).toEqual(breaks("molds"));
  });

  test("leaves the molds free from the session it is unmolded in", () => {
    const json = { ...oneBowl, drying: [{ ...drying, unmoldAt: null }] };
    expect(brokenRules(json, planOf(json, oneRun))).toEqual(allowed);
  });

  test("holds its molds and trays to the end when no session is late enough", () => {
    const trays = {
      ...oneBowl,
      trays: 3,
      drying: [{ ...drying, unmoldAt: null, packAt: "2027-04-01T08:00" }],
    };
    expect(brokenRules(trays, planOf(trays, oneRun))).toEqual(breaks("trays"));
  });

  test("pays turning, unmolding and packing, but no unmolding when it is out of its mold", () => {
    // 10 x 0.1 turning in session 0 leaves 36.4 - 1 = 35.4; 10 x 0.2 unmolding and 9 x 0.1 turning in session 1.
    const base = {
      ...oneBowl,
      shapes: [{ ...oneBowl.shapes[0], moldSets: 20 } as JsonCase["shapes"][number]],
    };
    const hands = (first: number, second: number): JsonCase => ({
      ...base,
      drying: [drying],
      sessions: base.sessions.map((session, at) => ({
        ...session,
        handMinutes: [first, second][at] ?? session.handMinutes,
      })),
    });
    expect(brokenRules(hands(36.4, 2.9), planOf(base, oneRun))).toEqual(allowed);
    expect(brokenRules(hands(36.3, 2.9), planOf(base, oneRun))).toEqual(breaks("hands"));
    expect(brokenRules(hands(36.4, 2.8), planOf(base, oneRun))).toEqual(breaks("hands"));
    const out = { ...hands(35.4, 0.9), drying: [{ ...drying, unmoldAt: null }] };
    expect(brokenRules(out, planOf(base, oneRun))).toEqual(allowed);
  });
});

describe("supplies", () => {
  const run = oneRun.runs[0];
  if (run === undefined) throw new Error("the run is missing");
  const more = (units: number): Decisions["supplies"][number] => ({
    order: "W-1",
    product: "cedar/ball",
    units,
    from: "run",
    session: 0,
  });

  test("no more than a run makes", () => {
    const decisions = {
      runs: [{ ...run, pieces: [{ product: "cedar/ball", units: 8 }] }],
      supplies: oneRun.supplies,
    };
    expect(brokenRules(oneBowl, planOf(oneBowl, decisions))).toEqual(breaks("supply"));
  });

  test("no more than a line asks for", () => {
    const json = { ...oneBowl, orders: [{ ...nineBalls, lines: [{ product: "cedar/ball", units: 8 }] }] };
    const plan = { ...planOf(json, { ...oneRun, supplies: [more(8)] }), supplies: [more(9)] };
    expect(brokenRules(json, plan).ours).toContain("supply");
    expect(brokenRules(json, plan).theirs).toContain("supply");
  });

  test("no more than there is in stock", () => {
    const supplies: Decisions["supplies"] = [
      { order: "W-1", product: "cedar/ball", units: 9, from: "stock" },
    ];
    const stocked = (units: number) => ({ ...oneBowl, stock: [{ product: "cedar/ball", units }] });
    expect(brokenRules(stocked(9), planOf(stocked(9), { runs: [], supplies }))).toEqual(allowed);
    expect(brokenRules(stocked(8), planOf(stocked(8), { runs: [], supplies }))).toEqual(breaks("supply"));
  });

  test("no more than is drying, and nothing of what is never packed", () => {
    const supplies: Decisions["supplies"] = [
      { order: "W-1", product: "cedar/ball", units: 9, from: "drying", drying: 0 },
    ];
    const entry = { product: "cedar/ball", units: 9, trays: 1, unmoldAt: null, packAt: "2027-03-02T08:00" };
    const json = (change: object) => ({ ...oneBowl, drying: [{ ...entry, ...change }] });
    expect(brokenRules(json({}), planOf(json({}), { runs: [], supplies }))).toEqual(allowed);
    expect(brokenRules(json({ units: 8 }), planOf(json({}), { runs: [], supplies }))).toEqual(
      breaks("supply"),
    );
  });

  test("a market takes nothing that is ready after its date", () => {
    const market = (shipBy: string) => ({
      ...oneBowl,
      orders: [{ ...nineBalls, terms: "market", shipBy }],
    });
    expect(brokenRules(market("2027-03-03"), planOf(market("2027-03-03"), oneRun))).toEqual(allowed);
    const plan = planOf(market("2027-03-02"), oneRun);
    expect(brokenRules(market("2027-03-02"), plan).ours).toContain("supply");
    expect(brokenRules(market("2027-03-02"), plan).theirs).toContain("supply");
  });
});

describe("runs and figures", () => {
  test("one run of a blend in a session", () => {
    const half = {
      ...oneRun.runs[0],
      pieces: [{ product: "cedar/ball", units: 4 }],
    } as Decisions["runs"][number];
    const decisions = { runs: [half, half], supplies: [] };
    expect(brokenRules(oneBowl, planOf(oneBowl, decisions))).toEqual(breaks("bowls"));
  });

  const plan = planOf(oneBowl, oneRun);
  const wrong: readonly [what: string, plan: Plan][] = [
    ["cost", { ...plan, cost: 1 }],
    ["hand minutes", { ...plan, handMinutes: plan.handMinutes + 0.1 }],
    ["bound", { ...plan, bound: 0.5 }],
    ["ready date", { ...plan, orders: [{ id: "W-1", readyOn: "2027-03-02", daysLate: 0, unitsShort: 0 }] }],
    ["days late", { ...plan, orders: [{ id: "W-1", readyOn: "2027-03-03", daysLate: 1, unitsShort: 0 }] }],
    ["units short", { ...plan, orders: [{ id: "W-1", readyOn: "2027-03-03", daysLate: 0, unitsShort: 1 }] }],
    ["orders left out", { ...plan, orders: [] }],
  ];
  test.each(wrong)("a wrong %s is named", (_, stated) => {
    expect(brokenRules(oneBowl, stated)).toEqual(breaks("figures"));
  });

  const unknown: readonly [what: string, decisions: Decisions][] = [
    ["session", { ...oneRun, runs: [{ ...oneRun.runs[0], session: 99 } as Decisions["runs"][number]] }],
    [
      "blend of a product",
      { ...oneRun, runs: [{ ...oneRun.runs[0], blend: "oat" } as Decisions["runs"][number]] },
    ],
    [
      "order",
      { ...oneRun, supplies: [{ ...oneRun.supplies[0], order: "W-9" } as Decisions["supplies"][number]] },
    ],
  ];
  test.each(unknown)("%s that is not of the case is named", (_, decisions) => {
    const { ours, theirs } = brokenRules(oneBowl, { ...plan, ...decisions });
    expect(ours).toEqual(["reference"]);
    expect(theirs).toContain("reference");
  });
});
