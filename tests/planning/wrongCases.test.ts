import { describe, expect, test } from "vitest";
import { caseLimits } from "../../server/planning/case.ts";
import { parseCase } from "../../server/planning/parseCase.ts";
import { nineBalls, oneBowl, withBall, withSession } from "./oneBowl.ts";

/** Paths of all mistakes of a case. */
function mistakes(json: unknown): readonly string[] {
  const parsed = parseCase(json);
  return parsed.ok ? [] : parsed.refusal.map((mistake) => mistake.path);
}

const [product] = oneBowl.products;
const line = { product: "cedar/ball", units: 9 };
const orderWith = (change: object) => ({ ...oneBowl, orders: [{ ...nineBalls, ...change }] });

describe("a wrong case is refused with the path of every mistake", () => {
  const wrong: readonly [path: string, json: unknown][] = [
    ["$", null],
    ["$", []],
    ["$.name", { ...oneBowl, name: 7 }],
    ["$.sessions", { ...oneBowl, sessions: [] }],
    ["$.sessions", { ...oneBowl, sessions: undefined }],
    ["$.sessions[1].date", withSession(1, { date: "2027-02-30" })],
    ["$.sessions[1].start", withSession(1, { start: "9:00" })],
    ["$.sessions[1].end", withSession(1, { end: "25:00" })],
    ["$.sessions[1].end", withSession(1, { end: "13:30" })],
    ["$.sessions[1]", withSession(1, { start: "12:59" })],
    ["$.sessions[3]", withSession(3, { date: "2027-03-01" })],
    ["$.sessions[0].handMinutes", withSession(0, { handMinutes: -1 })],
    ["$.sessions[0].dryingFactor", withSession(0, { dryingFactor: Number.POSITIVE_INFINITY })],
    ["$.sessions[0].mixing", { ...oneBowl, sessions: [{ ...oneBowl.sessions[0], mixing: "yes" }] }],
    ["$.mixers", { ...oneBowl, mixers: 1.5 }],
    ["$.bowlGrams", { ...oneBowl, bowlGrams: 0 }],
    ["$.minBowlGrams", { ...oneBowl, minBowlGrams: 2001 }],
    ["$.bowlMinutes", { ...oneBowl, bowlMinutes: "30" }],
    ["$.trays", { ...oneBowl, trays: -1 }],
    ["$.shapes[0].moldSets", withBall({ moldSets: 0.5 })],
    ["$.shapes[0].driesIn", withBall({ driesIn: "quarter" })],
    ["$.shapes[0].moldHours", withBall({ moldHours: -16 })],
    ["$.shapes[0].unitsPerTray", withBall({ unitsPerTray: 0 })],
    ["$.shapes[0].grams", withBall({ grams: Number.NaN })],
    ["$.shapes[1].id", { ...oneBowl, shapes: [oneBowl.shapes[0], oneBowl.shapes[0]] }],
    [
      "$.blends[0].shade",
      {
        ...oneBowl,
        blends: [
          { id: "cedar", shade: -0.1 },
          { id: "oat", shade: 0 },
        ],
      },
    ],
    ["$.blends[2].id", { ...oneBowl, blends: [...oneBowl.blends, { id: "oat", shade: 0 }] }],
    ["$.products[2].id", { ...oneBowl, products: [...oneBowl.products, product] }],
    ["$.products[0].shape", { ...oneBowl, products: [{ ...product, shape: "cube" }, oneBowl.products[1]] }],
    ["$.products[0].blend", { ...oneBowl, products: [{ ...product, blend: "fig" }, oneBowl.products[1]] }],
    [
      "$.products[0].lossShare",
      { ...oneBowl, products: [{ ...product, lossShare: 1 }, oneBowl.products[1]] },
    ],
    ["$.orders[0].lines[0].spare", orderWith({ lines: [{ ...line, spare: -1 }] })],
    [
      "$.drying[0].expectedLosses",
      {
        ...oneBowl,
        drying: [{ ...line, trays: 1, unmoldAt: null, packAt: "2027-03-01T08:00", expectedLosses: 0.5 }],
      },
    ],
    ["$.stock[1].product", { ...oneBowl, stock: [line, line] }],
    ["$.stock[0].units", { ...oneBowl, stock: [{ ...line, units: 0 }] }],
    ["$.drying[0].trays", { ...oneBowl, drying: [{ ...line, unmoldAt: null, packAt: "2027-03-01T08:00" }] }],
    ["$.drying[0].packAt", { ...oneBowl, drying: [{ ...line, trays: 1, unmoldAt: null, packAt: "soon" }] }],
    ["$.orders[0].terms", orderWith({ terms: "later" })],
    ["$.orders[0].shipBy", orderWith({ shipBy: "2027-13-01" })],
    ["$.orders[0].weight", orderWith({ weight: -1 })],
    ["$.orders[0].lines[0].product", orderWith({ lines: [{ product: "fig/ball", units: 1 }] })],
    ["$.orders[0].lines[0].units", orderWith({ lines: [{ product: "cedar/ball", units: 2.5 }] })],
    ["$.orders[0].lines[1].product", orderWith({ lines: [line, line] })],
    ["$.orders[1].id", { ...oneBowl, orders: [nineBalls, nineBalls] }],
  ];
  test.each(wrong)("%s", (path, json) => {
    expect(mistakes(json)).toEqual([path]);
  });

  test("several at once", () => {
    const json = { ...orderWith({ lines: [{ product: "x", units: 0 }] }), mixers: null, trays: "8" };
    expect([...mistakes(json)].sort()).toEqual([
      "$.mixers",
      "$.orders[0].lines[0].product",
      "$.orders[0].lines[0].units",
      "$.trays",
    ]);
  });

  test("what may be left out or be nothing", () => {
    const { orders: _, ...rest } = oneBowl;
    expect(mistakes({ ...rest, orders: [], mixers: 0, trays: 0, minBowlGrams: 0 })).toEqual([]);
    expect(mistakes(withBall({ moldSets: 0 }))).toEqual([]);
    expect(mistakes(withSession(0, { handMinutes: 0 }))).toEqual([]);
  });

  test("sizes beyond the limits, the limit named", () => {
    const pieces = parseCase(orderWith({ lines: [{ product: "cedar/ball", units: caseLimits.pieces + 1 }] }));
    expect(pieces.ok ? "" : pieces.refusal[0]?.problem).toContain("at most 100000");
    expect(mistakes(orderWith({ lines: [{ product: "cedar/ball", units: caseLimits.pieces }] }))).toEqual([]);
    const sessions = Array.from({ length: caseLimits.sessions + 1 }, () => oneBowl.sessions[0]);
    expect(mistakes({ ...oneBowl, sessions })[0]).toBe("$.sessions");
  });

  test("lines times sessions beyond what the search can hold", () => {
    const sessions = Array.from({ length: 2000 }, (_, at) => ({
      ...oneBowl.sessions[0],
      date: new Date(Date.UTC(2027, 0, 1 + at)).toISOString().slice(0, 10),
    }));
    const orders = (count: number) =>
      Array.from({ length: count }, (_, at) => ({ ...nineBalls, id: `W-${at}` }));
    expect(mistakes({ ...oneBowl, sessions, orders: orders(1000) })).toEqual([]);
    expect(mistakes({ ...oneBowl, sessions, orders: orders(1001) })).toEqual(["$.orders"]);
  });

  test("keys of the prototype are not taken for fields of the case", () => {
    expect(mistakes(JSON.parse('{"__proto__": {"name": "x"}}'))).toContain("$.name");
  });
});
