import { describe, expect, it } from "vitest";
import type { TimetableFacts } from "../../server/timetable/facts.ts";
import { handsOf } from "../../server/timetable/laySession.ts";
import { mustComeBefore } from "../../server/timetable/runOrder.ts";
import type { Entry } from "../../server/timetable/session.ts";
import { type SessionTimetable, timetable } from "../../server/timetable/timetable.ts";
import { type DrawnDays, drawDays } from "./drawnDays.ts";

/* Plans of drawn workshops on days on which clocks change, held against what the planner counts for every session. */

const PLANS = 1_000;

describe(`the timetables of ${PLANS} drawn plans`, { timeout: 300_000 }, () => {
  const days: DrawnDays[] = [];
  for (let seed = 1; days.length < PLANS; seed += 1) {
    const drawn = drawDays(seed);
    if (drawn !== null) days.push(drawn);
  }
  const sessions = days.flatMap(({ seed, facts, laid, work }) =>
    laid.map((session, place) => ({
      ...{ facts, laid: session, work: work[place], session: facts.sessions[place] },
      name: `seed ${seed}, session ${place}`,
    })),
  );
  const fits = ({ laid }: { readonly laid: SessionTimetable }) =>
    laid.troubles.every(({ kind }) => kind === "turning-left-out" || kind === "order-not-proven");

  it("come to something: runs, turnings and packing, most of them without a trouble", () => {
    const kinds = new Set(sessions.flatMap(({ laid }) => laid.entries.map(({ kind }) => kind)));
    expect([...kinds].sort()).toEqual(["clean", "mix", "pack", "press", "turn", "unmold", "weigh"]);
    const busy = sessions.filter(({ laid }) => laid.entries.length > 0);
    expect(busy.filter(fits).length / busy.length).toBeGreaterThan(0.8);
    expect(busy.length).toBeGreaterThan(PLANS);
  });

  it("never give a pair of hands two things at once, nor use more hands than there are", () => {
    for (const { laid, session, name } of sessions) {
      const hands = session ? handsOf(session) : 0;
      expect(Math.max(-1, ...laid.entries.map(({ hand }) => hand)), name).toBeLessThan(hands);
      for (let hand = 0; hand < hands; hand += 1)
        apart(
          laid.entries.filter((entry) => entry.hand === hand),
          name,
        );
    }
  });

  it("never put two bowls into one mixer at once, nor use more mixers than there are", () => {
    for (const { laid, facts, name } of sessions) {
      const bowls = laid.entries.flatMap((entry) => (entry.kind === "mix" ? [entry] : []));
      for (const { mixer } of bowls) expect(mixer, name).toBeLessThan(facts.workshop.mixers);
      for (let mixer = 0; mixer < facts.workshop.mixers; mixer += 1)
        apart(
          bowls
            .filter((bowl) => bowl.mixer === mixer)
            .map(({ mixerFrom, mixerUntil }) => ({ startsAt: mixerFrom, endsAt: mixerUntil })),
          name,
        );
      for (const { startsAt, endsAt, mixerFrom, mixerUntil } of bowls) {
        expect([mixerFrom <= startsAt, endsAt <= mixerUntil || +endsAt - +startsAt > 0], name).toEqual([
          true,
          true,
        ]);
        expect(+mixerUntil - +mixerFrom, name).toBe(facts.workshop.bowlMinutes * 60_000);
      }
    }
  });

  it("stay within their session, or say until when they run over", () => {
    for (const { laid, name } of sessions) {
      const last = Math.max(...laid.entries.map(({ endsAt }) => +endsAt));
      const over = laid.troubles.find(({ kind }) => kind === "runs-over");
      expect(
        laid.entries.every(({ startsAt }) => startsAt >= laid.startsAt),
        name,
      ).toBe(true);
      expect(over !== undefined, name).toBe(last > +laid.endsAt);
      if (over?.kind === "runs-over") expect(+over.until, name).toBe(last);
    }
  });

  it("have each run in the session the plan gave it, with its bowls and pieces, and light before dark", () => {
    for (const { laid, facts, session, name } of sessions) {
      const starts = session?.startsAt.getTime();
      const runs = facts.runs.filter((run) => run.sessionStartsAt.getTime() === starts);
      if (laid.troubles.some(({ kind }) => kind === "no-hands" || kind === "no-mixer")) continue;
      const mixed = laid.entries.filter(({ kind }) => kind === "mix");
      expect(new Set(laid.entries.flatMap((entry) => ("runId" in entry ? [entry.runId] : []))), name).toEqual(
        new Set(runs.map(({ runId }) => runId)),
      );
      expect(mixed.length, name).toBe(runs.reduce((sum, { bowls }) => sum + bowls, 0));
      const pressed = laid.entries.flatMap((entry) => (entry.kind === "press" ? entry.pieces : []));
      for (const { lotId, units } of runs.flatMap(({ lots }) => lots))
        expect(sumOf(pressed.filter((one) => one.lotId === lotId).map((one) => one.units)), name).toBe(units);
      const order = [...new Set(mixed.flatMap((entry) => ("runId" in entry ? [entry.runId] : [])))];
      const inOrder = order.flatMap((runId) => runs.filter((run) => run.runId === runId));
      inOrder.forEach((run, at) => {
        expect(
          inOrder.slice(0, at).some((earlier) => mustComeBefore(run, earlier)),
          name,
        ).toBe(false);
      });
    }
  });

  it("press a bowl as soon as it is mixed, by the same hands", () => {
    for (const { laid, name } of sessions)
      for (const press of laid.entries) {
        if (press.kind !== "press") continue;
        const mix = laid.entries.find(
          (one) => one.kind === "mix" && one.runId === press.runId && one.bowl === press.bowl,
        );
        expect([+(mix?.endsAt ?? 0), mix?.hand], name).toEqual([+press.startsAt, press.hand]);
      }
  });

  it("cost the hands what the planner counts: mixing, cleaning, pressing, unmolding and packing to the second", () => {
    for (const { laid, work, name } of sessions) {
      if (laid.troubles.some(({ kind }) => kind === "no-hands" || kind === "no-mixer")) continue;
      const close = (kinds: readonly Entry["kind"][], minutes = 0) =>
        expect(
          Math.abs(minutesOf(laid.entries.filter(({ kind }) => kinds.includes(kind))) - minutes),
          `${name}: ${kinds}`,
        ).toBeLessThan(1 / 60);
      close(["weigh", "mix"], work?.mixing);
      close(["clean"], work?.cleaning);
      close(["press"], work?.forming);
      close(["unmold"], work?.unmolding);
      close(["pack"], work?.packing);
    }
  });

  it("never need more hand minutes in a session than there are, unless they say so", () => {
    for (const { laid, session, name } of sessions) {
      const there = session?.handMinutes ?? 0;
      const said = laid.troubles.some(({ kind }) => kind === "too-few-hand-minutes" || kind === "no-hands");
      if (!said) expect(minutesOf(laid.entries), name).toBeLessThan(there + 1 / 30);
    }
  });

  it("turn only what lies in its mold, never before its hour", () => {
    for (const { laid, facts, seed } of days) {
      const entries = laid.flatMap((session) => session.entries);
      for (const lotId of new Set(entries.flatMap((entry) => (entry.kind === "turn" ? [entry.lotId] : []))))
        expectTurnings(lotId, entries, facts, `seed ${seed}, lot ${lotId}`);
    }
  });

  it("are the same each time", () => {
    for (const { facts, now, laid } of days.slice(0, 100)) expect(timetable(facts, now)).toEqual(laid);
  });
});

/** Every turning of a lot comes after its forming and before its unmolding, and no sooner than the shop's hours. */
function expectTurnings(
  lotId: number,
  entries: readonly Entry[],
  { lying, workshop }: TimetableFacts,
  name: string,
): void {
  const ends = (kind: "turn" | "unmold") =>
    entries.filter((entry) => entry.kind === kind && entry.lotId === lotId);
  const pressed = entries.filter(
    (entry) => entry.kind === "press" && entry.pieces.some((one) => one.lotId === lotId),
  );
  const lies = lying.find((lot) => lot.lotId === lotId);
  expect(lies?.state, name).not.toBe("resting");
  let since = +(lies?.formedAt ?? Math.max(...pressed.map(({ endsAt }) => +endsAt)));
  let wait = workshop.firstTurnMinutes;
  for (const { startsAt, endsAt } of ends("turn")) {
    expect(+startsAt - since, name).toBeGreaterThanOrEqual(wait * 60_000);
    for (const unmolding of ends("unmold")) expect(+endsAt, name).toBeLessThanOrEqual(+unmolding.startsAt);
    since = +endsAt;
    wait = workshop.everyTurnMinutes;
  }
}

function apart(spans: readonly Pick<Entry, "startsAt" | "endsAt">[], name: string): void {
  const inOrder = [...spans].sort(
    (one, other) => +one.startsAt - +other.startsAt || +one.endsAt - +other.endsAt,
  );
  inOrder.forEach(({ startsAt }, at) => {
    const before = inOrder[at - 1];
    if (before) expect(+startsAt, name).toBeGreaterThanOrEqual(+before.endsAt);
  });
}

function minutesOf(entries: readonly Entry[]): number {
  return sumOf(entries.map(({ startsAt, endsAt }) => (+endsAt - +startsAt) / 60_000));
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, each) => sum + each, 0);
}
