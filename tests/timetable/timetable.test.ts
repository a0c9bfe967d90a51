import { describe, expect, it } from "vitest";
import type { LyingFacts } from "../../server/timetable/facts.ts";
import { timetable } from "../../server/timetable/timetable.ts";
import { at, ball, factsOf, runOf, session, workshop, written } from "./benchFacts.ts";

const early = at("01T07:00");
const lay = (...given: Parameters<typeof factsOf>) => timetable(factsOf(...given), early);
const lying = (given: Partial<LyingFacts> = {}): LyingFacts => ({
  ...{ lotId: 21, shapeId: 1, units: 20, state: "drying", turnedAt: null },
  formedAt: at("01T01:00"),
  unmoldDueAt: at("02T05:00"),
  readyDueAt: at("02T13:00"),
  ...given,
});

describe("the timetable of a session", () => {
  it("takes a run bowl by bowl: weighed, mixed, pressed at once, and one clean-down at its end", () => {
    // A bowl: 20 min of which 5 in the mixer, then 15 balls of 48 s: 12 min. The mixer is free after 30, the hands after 32.
    const [monday] = lay();
    expect(written(monday?.entries ?? [])).toEqual([
      "09:00-09:15 weigh 1.1",
      "09:15-09:20 mix 1.1",
      "09:20-09:32 press 1.1",
      "09:32-09:47 weigh 1.2",
      "09:47-09:52 mix 1.2",
      "09:52-10:04 press 1.2",
      "10:04-10:16 clean 1",
    ]);
    expect(monday?.troubles).toEqual([]);
  });

  it("waits for the mixer where a bowl ties it up longer than the hands", () => {
    // 35 minutes of mixer and 32 of hands: the second bowl begins three minutes later.
    const [monday] = lay({ workshop: { ...workshop, bowlMinutes: 35 } });
    expect(written(monday?.entries ?? [])[3]).toBe("09:35-09:50 weigh 1.2");
    const [two] = lay({ workshop: { ...workshop, bowlMinutes: 35, mixers: 2 } });
    expect(written(two?.entries ?? [])[3]).toBe("09:32-09:47 weigh 1.2");
  });

  it("shares the bowls among two pairs of hands only where there are two mixers", () => {
    const two = { sessions: [session("01", "09:00", "13:00", 480)] };
    const starts = (mixers: number) =>
      lay({ ...two, workshop: { ...workshop, mixers } })[0]
        ?.entries.filter(({ kind }) => kind === "weigh")
        .map(({ startsAt, hand }) => [startsAt.toISOString().slice(11, 16), hand]);
    expect(starts(2)).toEqual([
      ["09:00", 0],
      ["09:00", 1],
    ]);
    expect(starts(1)).toEqual([
      ["09:00", 0],
      ["09:30", 1],
    ]);
  });

  it("unmolds first and packs last, and packs what it can while the mixer is busy", () => {
    const [monday] = lay({
      workshop: { ...workshop, bowlMinutes: 40 },
      lying: [
        lying({ unmoldDueAt: at("01T08:00"), readyDueAt: at("01T20:00") }),
        lying({ lotId: 22, state: "resting", units: 12, readyDueAt: at("01T08:00") }),
      ],
    });
    // 20 to unmold at 15 s: 5 min. 40 - 32 = 8 minutes of waiting: 8 of the 12 pieces are packed in them.
    expect(written(monday?.entries ?? [])).toEqual([
      "09:00-09:05 unmold 20 of 21",
      "09:05-09:20 weigh 1.1",
      "09:20-09:25 mix 1.1",
      "09:25-09:37 press 1.1",
      "09:37-09:45 pack 8 of 22",
      "09:45-10:00 weigh 1.2",
      "10:00-10:05 mix 1.2",
      "10:05-10:17 press 1.2",
      "10:17-10:29 clean 1",
      "10:29-10:33 pack 4 of 22",
    ]);
  });

  it("unmolds and packs what it forms in the sessions the plan counts on", () => {
    // Formed by 13:00, out of the mold from 05:00: the morning after. Rested from 17:00: not in these sessions.
    const [, tuesday] = lay();
    expect(written(tuesday?.entries ?? [])).toEqual(["09:00-09:07 unmold 30 of 11"]);
    const later = lay({ sessions: [session("01"), session("02"), session("02", "17:00", "18:00", 60)] });
    expect(written(later[2]?.entries ?? [])).toEqual(["17:00-17:30 pack 30 of 11"]);
    const sooner = lay({ sessions: [session("01"), session("02"), session("02", "16:59", "18:00", 61)] });
    expect(sooner[2]?.entries).toEqual([]);
  });

  it("keeps a bowl's pieces whole: 31 balls are 15 and 16", () => {
    const [monday] = lay({
      runs: [runOf({ lots: [{ lotId: 11, shapeId: 1, units: 31, isPressed: false }] })],
    });
    const pressed = monday?.entries.flatMap((entry) => (entry.kind === "press" ? entry.pieces : []));
    expect(pressed).toEqual([
      { lotId: 11, units: 15 },
      { lotId: 11, units: 16 },
    ]);
  });
});

describe("turnings", () => {
  const noRuns = { runs: [], sessions: [session("01", "09:00", "18:00", 540), session("02")] };
  const turnings = (given: Partial<LyingFacts>, more: Partial<Parameters<typeof factsOf>[0]> = {}) =>
    lay({ ...noRuns, lying: [lying(given)], ...more }).map(({ entries }) => written(entries));

  it("come at the shop's first hours and then at every so many, while somebody is there", () => {
    // Formed at 08:00: 12:30, then every three hours from the end of the last one.
    expect(turnings({ formedAt: at("01T08:00") })[0]).toEqual([
      "12:30-12:32 turn 20 of 21",
      "15:32-15:34 turn 20 of 21",
    ]);
  });

  it("are due when the session begins where they fell due with nobody there", () => {
    expect(turnings({ formedAt: at("01T01:00") })[0]?.[0]).toBe("09:00-09:02 turn 20 of 21");
    expect(turnings({ formedAt: at("01T01:00"), turnedAt: at("01T08:00") })[0]?.[0]).toBe(
      "11:00-11:02 turn 20 of 21",
    );
  });

  it("wait for the next session where there is no time left, to the minute", () => {
    // Two minutes for twenty pieces: due at 17:58 they are turned by 18:00, due at 17:59 they wait.
    expect(turnings({ formedAt: at("01T13:28"), unmoldDueAt: at("03T05:00") })).toEqual([
      ["17:58-18:00 turn 20 of 21"],
      ["09:00-09:02 turn 20 of 21", "12:02-12:04 turn 20 of 21"],
    ]);
    expect(turnings({ formedAt: at("01T13:29"), unmoldDueAt: at("03T05:00") })[0]).toEqual([]);
  });

  it("follow the setup's hours", () => {
    const other = { workshop: { ...workshop, firstTurnMinutes: 300, everyTurnMinutes: 240 } };
    expect(turnings({ formedAt: at("01T08:00") }, other)[0]).toEqual([
      "13:00-13:02 turn 20 of 21",
      "17:02-17:04 turn 20 of 21",
    ]);
  });

  it("are none in the hours after which pieces may leave their molds anyway", () => {
    const other = { formedAt: at("01T08:00"), readyDueAt: at("03T05:00") };
    expect(turnings({ ...other, unmoldDueAt: at("01T12:31") })[0]?.[0]).toBe("12:30-12:32 turn 20 of 21");
    expect(turnings({ ...other, unmoldDueAt: at("01T12:30") })[0]).toEqual([]);
  });

  it("end with the mold, and are none for a shape that is not turned", () => {
    expect(turnings({ unmoldDueAt: at("01T09:00"), readyDueAt: at("01T20:00") })[0]).toEqual([
      "09:00-09:05 unmold 20 of 21",
    ]);
    expect(turnings({}, { shapes: [{ ...ball, turnSeconds: 0 }] })[0]).toEqual([]);
  });

  it("wait until the bowl in hand is pressed", () => {
    // Due at 09:10 in the middle of the first bowl, which is pressed at 09:32.
    const [monday] = lay({ lying: [lying({ formedAt: at("01T04:40") })] });
    expect(written(monday?.entries ?? []).slice(2, 5)).toEqual([
      "09:20-09:32 press 1.1",
      "09:32-09:34 turn 20 of 21",
      "09:34-09:49 weigh 1.2",
    ]);
  });

  it("beyond the one a session that the plan counts take spare hand minutes, and are named where there are none", () => {
    // 4 hand minutes in 9 hours are two turnings; with 3 the second one has none left.
    const minutes = (handMinutes: number) =>
      lay({
        ...noRuns,
        sessions: [session("01", "09:00", "18:00", handMinutes)],
        lying: [lying({ formedAt: at("01T08:00") })],
      })[0];
    expect(minutes(4)?.entries).toHaveLength(2);
    expect(minutes(4)?.troubles).toEqual([]);
    expect(minutes(3)?.entries).toHaveLength(1);
    expect(minutes(3)?.troubles).toEqual([{ kind: "turning-left-out", lotId: 21, dueAt: at("01T15:32") }]);
  });
});

describe("what does not fit", () => {
  it("is said with the time it would take: to the last minute it fits, one less and it runs over", () => {
    // 76 hand minutes, but the mixer keeps them waiting for three: 79 minutes.
    const until = (ends: string) =>
      lay({
        workshop: { ...workshop, bowlMinutes: 35 },
        sessions: [session("01", "09:00", ends, 76)],
        runs: [runOf({ sessionEndsAt: at(`01T${ends}`) })],
      })[0];
    expect(until("10:19")?.troubles).toEqual([]);
    expect(until("10:18")?.troubles).toEqual([{ kind: "runs-over", until: at("01T10:19"), minutes: 1 }]);
  });

  it("goes to the bowls first where the trays first would run over", () => {
    // Six bowls of 40 minutes of mixer fill four hours; unmolding first would keep the mixer waiting.
    const six = {
      workshop: { ...workshop, bowlMinutes: 40, cleanMinutes: 0 },
      runs: [runOf({ bowls: 6, lots: [{ lotId: 11, shapeId: 1, units: 90, isPressed: false }] })],
      shapes: [ball, { ...ball, shapeId: 2 }],
      lying: [lying({ units: 60, shapeId: 2, unmoldDueAt: at("01T08:00"), readyDueAt: at("01T20:00") })],
    };
    const [monday] = lay(six);
    expect(monday?.troubles).toEqual([]);
    expect(written(monday?.entries ?? [])[0]).toBe("09:00-09:15 weigh 1.1");
    // Of the shape that is pressed the molds have to be free first.
    const [needed] = lay({ ...six, lying: [{ ...lying(six.lying[0]), shapeId: 1 }] });
    expect(written(needed?.entries ?? [])[0]).toBe("09:00-09:15 unmold 60 of 21");
  });

  it("has the mixer cleaned before another blend goes in", () => {
    // One bowl each, 15 balls: pressed by 09:32, cleaned by 09:44. The mixer alone would be free at 09:30.
    const one = (runId: number, lotId: number, shade: number) =>
      runOf({ runId, shade, bowls: 1, lots: [{ lotId, shapeId: 1, units: 15, isPressed: false }] });
    const [monday] = lay({
      sessions: [session("01", "09:00", "13:00", 480)],
      runs: [one(2, 12, 0.8), one(1, 11, 0.2)],
    });
    expect(written(monday?.entries ?? []).filter((entry) => /weigh|clean/.test(entry))).toEqual([
      "09:00-09:15 weigh 1.1",
      "09:32-09:44 clean 1",
      "09:44-09:59 weigh 2.1",
      "10:16-10:28 clean 2",
    ]);
  });

  it("names a session without hands, and bowls without a mixer", () => {
    expect(lay({ sessions: [session("01", "09:00", "13:00", 0)] })[0]?.troubles).toEqual([
      { kind: "no-hands" },
    ]);
    expect(lay({ workshop: { ...workshop, mixers: 0 } })[0]?.troubles).toEqual([{ kind: "no-mixer" }]);
  });

  it("says that hand minutes are too few where more lies there than the plan knew of", () => {
    const [monday] = lay({
      runs: [],
      sessions: [session("01", "09:00", "13:00", 10)],
      lying: [lying({ units: 41, unmoldDueAt: at("01T08:00"), readyDueAt: at("01T20:00") })],
    });
    // 41 x 15 s are 10 min 15 s.
    expect(monday?.troubles).toEqual([{ kind: "too-few-hand-minutes", needed: 11, there: 10 }]);
  });
});

describe("a session under way", () => {
  const now = (clock: string, run: Parameters<typeof runOf>[0]) =>
    written(timetable(factsOf({ runs: [runOf(run)] }), at(clock))[0]?.entries ?? []);

  it("goes on from the present moment", () => {
    expect(now("01T09:40", {})[0]).toBe("09:40-09:55 weigh 1.1");
  });

  it("keeps the times at which bowls were begun and mixed, and leaves out what is pressed", () => {
    const bowl = { startedAt: at("01T09:10"), mixedAt: null, pressedAt: null };
    const begun = (...bowls: object[]) => ({
      startedAt: at("01T09:10"),
      begun: bowls.map((each, place) => ({ ...bowl, bowl: place + 1, ...each })),
    });
    expect(now("01T09:15", begun({})).slice(0, 3)).toEqual([
      "09:10-09:25 weigh 1.1",
      "09:25-09:30 mix 1.1",
      "09:30-09:42 press 1.1",
    ]);
    // Right already at 09:26: pressing goes on from there.
    expect(now("01T09:30", begun({ mixedAt: at("01T09:26") })).slice(0, 2)).toEqual([
      "09:26-09:38 press 1.1",
      "09:40-09:55 weigh 1.2",
    ]);
    expect(now("01T09:50", begun({ mixedAt: at("01T09:30"), pressedAt: at("01T09:44") }))[0]).toBe(
      "09:50-10:05 weigh 1.2",
    );
  });

  it("takes the first bowl of a run that was begun to be under way where nobody has said anything of it", () => {
    expect(now("01T09:20", { startedAt: at("01T09:10") })[0]).toBe("09:10-09:25 weigh 1.1");
  });
});
