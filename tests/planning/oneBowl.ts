import type { Decisions, Plan } from "../../server/planning/plan.ts";
import { finishPlan } from "../../server/planning/planCase.ts";
import { caseFromJson } from "./caseFiles.ts";
import type { JsonCase, JsonOrder, JsonShape } from "./independentChecker.ts";

/**
 * A workshop small enough to work out by hand. One bowl of nine balls, mixed on Monday morning, is turned in the
 * afternoon, leaves its molds on Tuesday at 09:00 (13:00 + 16 h = 05:00) and is packed on Wednesday (09:00 + 8 h =
 * 17:00, after Tuesday's only session).
 */
export const ball: JsonShape = {
  id: "ball",
  moldSets: 5,
  driesIn: "half",
  moldHours: 16,
  restHours: 8,
  unitsPerTray: 4,
  grams: 100,
  formMinutes: 0.5,
  turnMinutes: 0.1,
  unmoldMinutes: 0.2,
  packMinutes: 1,
};

export const nineBalls: JsonOrder = {
  id: "W-1",
  terms: "complete",
  shipBy: "2027-03-03",
  weight: 1,
  lines: [{ product: "cedar/ball", units: 9 }],
};

export const oneBowl: JsonCase = {
  name: "one bowl",
  sessions: [
    { date: "2027-03-01", start: "09:00", end: "13:00", handMinutes: 240 },
    { date: "2027-03-01", start: "14:00", end: "17:00", handMinutes: 180, mixing: false },
    { date: "2027-03-02", start: "09:00", end: "13:00", handMinutes: 240 },
    { date: "2027-03-03", start: "09:00", end: "13:00", handMinutes: 240 },
    { date: "2027-03-04", start: "09:00", end: "13:00", handMinutes: 240 },
  ],
  mixers: 1,
  bowlGrams: 2000,
  minBowlGrams: 0,
  bowlMinutes: 30,
  mixMinutes: 20,
  cleanMinutes: 10,
  trays: 8,
  shapes: [ball],
  blends: [
    { id: "cedar", shade: 0.7 },
    { id: "oat", shade: 0.1 },
  ],
  products: [
    { id: "cedar/ball", blend: "cedar", shape: "ball" },
    { id: "oat/ball", blend: "oat", shape: "ball" },
  ],
  orders: [nineBalls],
};

export const oneRun: Decisions = {
  runs: [{ session: 0, blend: "cedar", bowls: 1, pieces: [{ product: "cedar/ball", units: 9 }] }],
  supplies: [{ order: "W-1", product: "cedar/ball", units: 9, from: "run", session: 0 }],
};

export const nothing: Decisions = { runs: [], supplies: [] };

/** The case with its only shape changed. */
export function withBall(change: Partial<JsonShape>): JsonCase {
  return { ...oneBowl, shapes: [{ ...ball, ...change }] };
}

/** The case with one session changed. */
export function withSession(index: number, change: Partial<JsonCase["sessions"][number]>): JsonCase {
  return {
    ...oneBowl,
    sessions: oneBowl.sessions.map((session, at) => (at === index ? { ...session, ...change } : session)),
  };
}

/** A plan of these decisions with the figures that follow from them. */
export function planOf(json: JsonCase, decisions: Decisions): Plan {
  return finishPlan(caseFromJson(json), decisions, 0);
}
