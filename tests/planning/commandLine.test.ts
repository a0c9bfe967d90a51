import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkPlan } from "../../server/cli/check-plan.ts";
import { plan } from "../../server/cli/plan.ts";
import { jsonOfFile } from "./caseFiles.ts";
import { tinyCase } from "./exhaustiveCases.ts";
import { exhaustiveSearch } from "./exhaustiveSearch.ts";
import { type JsonPlan, judge } from "./independentChecker.ts";
import { nineBalls, oneBowl } from "./oneBowl.ts";

const cases = path.join(import.meta.dirname, "cases");

let folder: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "case-"));
});

afterAll(() => {
  rmSync(folder, { recursive: true });
});

function fileOf(name: string, content: unknown): string {
  const file = path.join(folder, name);
  writeFileSync(file, typeof content === "string" ? content : JSON.stringify(content));
  return file;
}

type Command = typeof plan;

/** By a clock that counts: how long a search goes on does not hang on the machine, and the seconds are its own. */
async function call(command: Command, ...words: string[]) {
  const out: string[] = [];
  const err: string[] = [];
  let ms = 0;
  const clock = () => {
    ms += 0.1;
    return ms;
  };
  const io = { out: (text: string) => out.push(text), err: (text: string) => err.push(text) };
  const code = await command(words, io, { begunMs: 0, clock });
  return { code, out: out.join("\n"), err };
}

const quick = ["--seconds", "1"];

describe("plan", () => {
  test("prints the plan as JSON and nothing else", async () => {
    const { code, out, err } = await call(plan, fileOf("case.json", oneBowl), "--json", ...quick);
    expect({ code, err }).toEqual({ code: 0, err: [] });
    const answer: JsonPlan = JSON.parse(out);
    expect(judge(oneBowl, answer)).toMatchObject({ complaints: [], cost: 0 });
    expect(Object.keys(answer)).toEqual(["cost", "handMinutes", "bound", "runs", "supplies", "orders"]);
  });

  // On one core there is nobody to prove it.
  test.runIf(availableParallelism() > 1)("proves more about a plan when it has the time", async () => {
    // The prices of the engine alone prove 5. A busy machine needs longer than the seconds that are usually asked for.
    const json = tinyCase(10);
    const best = exhaustiveSearch(json).cost;
    expect(best).toBe(32);
    const out: string[] = [];
    // Time is left when it is proven: whoever waits needs no more.
    let isProven = false;
    const err = (line: string) => {
      if (isProven || !line.includes("no plan below 32")) return;
      isProven = true;
      process.emit("SIGINT");
    };
    const words = [fileOf("proven.json", json), "--json", "--seconds", "60"];
    expect(await plan(words, { out: (text) => out.push(text), err })).toBe(0);
    expect(JSON.parse(out.join("\n"))).toMatchObject({ cost: best, bound: best });
  });

  test("prints a readable plan by default, with why an order is late", async () => {
    const late = { ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-02" }] };
    const { code, out } = await call(plan, fileOf("late.json", late), ...quick);
    expect(code).toBe(0);
    expect(out).toContain(
      "0 orders of 1 on time, 1 late. Lateness 9 unit-days; no plan can be better on lateness.",
    );
    expect(out).toContain("cedar: 1 bowl, 9 x cedar/ball; for W-1");
    expect(out).toContain("W-1: ready on 2027-03-03, 1 day late");
    expect(out).toContain("alone it would be ready on 2027-03-03");
  });

  test("searches in threads where the seconds are worth their start, and tells how it goes on standard error", async () => {
    const out: string[] = [];
    const err: string[] = [];
    // What is put off until this thread has nothing else to do comes to nothing while it searches itself.
    let timesFree = 0;
    let timesFreeBefore = 0;
    const io = {
      out: (text: string) => {
        out.push(text);
        timesFreeBefore = timesFree;
      },
      err: (text: string) => {
        err.push(text);
        setImmediate(() => timesFree++);
      },
    };
    const code = await plan([path.join(cases, "week-3.json"), "--json", "--seconds", "4"], io);
    const week = jsonOfFile("week-3.json");
    expect([code, judge(week, JSON.parse(out.join(""))).complaints]).toEqual([0, []]);
    expect(timesFreeBefore).toBe(err.length);
    expect(err.length).toBeGreaterThan(0);
    expect(err.length).toBeLessThanOrEqual(8);
    for (const line of err)
      expect(line).toMatch(/^\d+\.\d s: lateness [\d.]+, no plan below [\d.]+, [\d.]+ hand minutes$/);
  });

  test("names every mistake of a wrong case with its path", async () => {
    const wrong = { ...oneBowl, mixers: -1, trays: "8" };
    expect(await call(plan, fileOf("wrong.json", wrong), "--json")).toEqual({
      code: 2,
      out: "",
      err: [
        "$.mixers must be a whole number, 0 or more, but is -1",
        '$.trays must be a whole number, 0 or more, but is "8"',
      ],
    });
  });

  test("refuses files that are not there, not JSON or too large, without a stack trace", async () => {
    for (const file of [
      path.join(folder, "nowhere.json"),
      fileOf("broken.json", "{"),
      fileOf("empty.json", ""),
      fileOf("large.json", " ".repeat(5_000_001)),
    ]) {
      const { code, out, err } = await call(plan, file);
      expect({ code, out, lines: err.length }).toEqual({ code: 2, out: "", lines: 1 });
      expect(err[0]).toContain(path.basename(file));
      expect(err[0]).not.toMatch(/\n\s+at /);
    }
  });

  const wrongWords: readonly [what: string, ...words: string[]][] = [
    ["no file"],
    ["two files", "a.json", "b.json"],
    ["an unknown option", "a.json", "--fast"],
    ["seconds that are no number", "a.json", "--seconds", "soon"],
    ["negative seconds", "a.json", "--seconds", "-1"],
    ["a seed that is not whole", "a.json", "--seed", "1.5"],
    ["an option without its value", "a.json", "--seed"],
  ];
  test.each(wrongWords)("refuses %s", async (_, ...words) => {
    const { code, out, err } = await call(plan, ...words);
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err.at(-1)).toContain("Usage: plan");
  });

  test("says what holds the workshop up in the form of the model", async () => {
    const { code, out } = await call(
      plan,
      fileOf("case.json", oneBowl),
      "--what-holds-up",
      "--json",
      ...quick,
    );
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    expect(answer).toMatchObject({ cost: 0, bottleneck: { resource: "moldSets", shape: "ball" } });
    expect(answer.resources.map((each: { resource: string }) => each.resource)).toEqual([
      "moldSets",
      "trays",
      "handMinutes",
      "mixers",
    ]);
    expect(answer.resources[0]).toEqual({
      resource: "moldSets",
      shape: "ball",
      limit: 5,
      meanLoad: 0.4,
      peakLoad: 1,
      oneMore: { limit: 6, cost: 0 },
      enough: null,
    });
  });

  test("promises a date, with or without one wished for", async () => {
    const file = fileOf("case.json", oneBowl);
    const order = { ...nineBalls, id: "N-1", lines: [{ product: "oat/ball", units: 9 }] };
    const { shipBy: _, ...open } = order;
    const promised = async (name: string, content: unknown) =>
      JSON.parse(
        (await call(plan, file, "--promise", fileOf(name, content), "--json", "--seconds", "1")).out,
      );
    expect(await promised("open.json", open)).toEqual({ earliest: "2027-03-04" });
    expect(await promised("kept.json", { ...order, shipBy: "2027-03-04" })).toEqual({
      earliest: "2027-03-04",
    });
    expect(await promised("wished.json", order)).toEqual({
      earliest: "2027-03-04",
      wished: "2027-03-03",
      piecesByWished: 0,
      inTheWay: { resource: "moldSets", shape: "ball" },
    });
    const wrong = await call(plan, file, "--promise", fileOf("known.json", nineBalls));
    expect(wrong).toMatchObject({ code: 2, out: "", err: ['$.id "W-1" is already an order of the case'] });
  });
});

describe("check-plan", () => {
  test("says allowed, or every rule that is broken", async () => {
    const file = fileOf("case.json", oneBowl);
    const { out } = await call(plan, file, "--json", ...quick);
    expect(await call(checkPlan, file, fileOf("plan.json", out))).toEqual({
      code: 0,
      out: "allowed",
      err: [],
    });
    const tighter = fileOf("tighter.json", { ...oneBowl, trays: 2, mixers: 0 });
    const checked = await call(checkPlan, tighter, fileOf("plan.json", out));
    expect(checked.code).toBe(1);
    expect(checked.out).toContain("mixers in session 0: bowls: 1 by the plan and 0 already drying, limit 0");
    expect(checked.out).toContain("trays in session 0: trays: 3 by the plan and 0 already drying, limit 2");
  });

  test("names what is no plan at all", async () => {
    const file = fileOf("case.json", oneBowl);
    const { code, err } = await call(checkPlan, file, fileOf("noPlan.json", { cost: 0 }));
    expect(code).toBe(1);
    expect(err).toContain("$.runs must be a list, but is missing");
    expect((await call(checkPlan, file)).code).toBe(2);
  });
});
