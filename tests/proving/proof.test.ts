import { describe, expect, test } from "vitest";
import { Proof } from "../../server/proving/proof.ts";
import { caseFromJson, caseOfFile } from "../planning/caseFiles.ts";
import { nineBalls, oneBowl, withBall } from "../planning/oneBowl.ts";

/** A cost that no proof of a case here comes near. */
const beyond = 1e9;

/** What this process is kept busy by. */
const threadsAndChannels = () =>
  process.getActiveResourcesInfo().filter((kind) => /Worker|MessagePort/.test(kind)).length;

describe("a proof in a thread of its own", () => {
  test("tells ever higher bounds, and is at its end when nothing more can be proven", async () => {
    const bounds: number[] = [];
    const late = caseFromJson({ ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-02" }] });
    const proof = new Proof(late, beyond, (bound) => bounds.push(bound));
    expect(await proof.ended).toEqual({ kind: "proven" });
    // What is mixed on Monday is packed on Wednesday: nine balls, a day late.
    expect(bounds.at(-1)).toBe(9);
  });

  test("is at its end when the bound reaches the cost of the best plan known meanwhile", async () => {
    const bounds: number[] = [];
    const proof = new Proof(caseOfFile("week-5.json"), beyond, (bound) => bounds.push(bound));
    await expect.poll(() => bounds.length, { timeout: 60_000 }).toBeGreaterThan(0);
    // As good a plan is not known, but it ends the work: without this it would go on for hours.
    proof.hear(bounds[0] ?? 0);
    expect(await proof.ended).toEqual({ kind: "proven" });
  });

  test("is ended in the middle of its work, and leaves no thread and no channel behind", async () => {
    const before = threadsAndChannels();
    const bounds: number[] = [];
    const proof = new Proof(caseOfFile("week-5.json"), beyond, (bound) => bounds.push(bound));
    await expect.poll(() => bounds.length, { timeout: 60_000 }).toBeGreaterThan(0);
    expect(threadsAndChannels()).toBeGreaterThan(before);
    expect(await proof.end()).toEqual({ kind: "called-off" });
    expect(threadsAndChannels()).toBe(before);
    const told = bounds.length;
    await new Proof(caseFromJson(withBall({})), beyond, () => {}).ended;
    expect(bounds.length, "nothing is told after the end").toBe(told);
  });

  test("is ended before it has begun", async () => {
    const proof = new Proof(caseOfFile("week-5.json"), beyond, () => {});
    expect(await proof.end()).toEqual({ kind: "called-off" });
  });

  test("says that a case is too large for it", async () => {
    const week = caseOfFile("week-5.json");
    const days = Array.from({ length: 50 }, () => week.sessions)
      .flat()
      .map((session, at) => ({
        ...session,
        date: new Date(Date.UTC(2027, 2, 1 + at)).toISOString().slice(0, 10),
      }));
    const proof = new Proof({ ...week, sessions: days }, beyond, () => {});
    expect(await proof.ended).toMatchObject({ kind: "too-large" });
  });
});
