import { describe, expect, test } from "vitest";
import { oneBowl } from "../planning/oneBowl.ts";
import { exponent } from "./exponent.ts";
import { inChild } from "./inChild.ts";
import { type Measured, withSections } from "./results.ts";
import { median, toMarkdown, toPercent } from "./table.ts";

const names = ["weeks", "season"];

function measured(name: string, cost: string, coreShare = 1): Measured {
  return {
    name,
    title: name === "weeks" ? "Weeks" : "Season",
    method: ["Two seconds a seed."],
    circumstances: {
      date: "2027-03-01 08:00",
      commit: "abc1234",
      machine: "2 x some processor",
      command: "npm run bench -- planner",
      seeds: [1, 2],
      coreShares: [coreShare],
    },
    table: { head: ["case", "cost"], rows: [["week-0", cost]] },
  };
}

describe("the written results", () => {
  test("say when, on what and how, beside the table", () => {
    const text = withSections("", names, [measured("weeks", "12")]);
    expect(text).toContain("## Weeks");
    expect(text).toContain("| week-0 | 12 |");
    expect(text).toContain("2027-03-01 08:00 UTC, commit abc1234, 2 x some processor");
    expect(text).toContain("`npm run bench -- planner`, seeds 1, 2.");
    expect(text).toContain("- Two seconds a seed.");
  });

  test("keep every section that was not measured again, as it was, in the order of the sections", () => {
    const season = withSections("", names, [measured("season", "7")]);
    const both = withSections(season, names, [measured("weeks", "12")]);
    expect(both.indexOf("## Weeks")).toBeLessThan(both.indexOf("## Season"));
    const again = withSections(both, names, [measured("weeks", "11")]);
    expect(again).toContain("| week-0 | 11 |");
    expect(again).not.toContain("| week-0 | 12 |");
    expect(again.slice(again.indexOf("## Season"))).toBe(both.slice(both.indexOf("## Season")));
    expect(withSections(again, names, [])).toBe(again);
  });

  test("say so where others had the processor", () => {
    expect(withSections("", names, [measured("weeks", "12", 0.95)])).toContain("a quiet machine");
    const loaded = withSections("", names, [measured("weeks", "12", 0.4)]);
    expect(loaded).toContain("had 40 % of a core on average");
    expect(loaded).toContain("**Measured under load**");
  });
});

describe("the numbers in it", () => {
  test("are measured in a process of their own, of plans that were checked", async () => {
    const { value, peakMegabytes, coreShare } = await inChild("plan", {
      json: oneBowl,
      seeds: [1, 2],
      seconds: 0.2,
    });
    // The one bowl of this case, worked out by hand: on time, 47.1 hand minutes.
    expect(value.map(({ cost, handMinutes }) => [cost, handMinutes])).toEqual([
      [0, expect.closeTo(47.1, 6)],
      [0, expect.closeTo(47.1, 6)],
    ]);
    expect(value[0]?.better.length).toBeGreaterThan(0);
    expect(peakMegabytes).toBeGreaterThan(20);
    expect(coreShare).toBeGreaterThan(0);
  });

  test("fail loudly where that process fails", async () => {
    const wrong = { ...oneBowl, trays: -1 };
    await expect(inChild("plan", { json: wrong, seeds: [1], seconds: 0.1 })).rejects.toThrow(/trays/);
  });

  test("are the middle one and the worst, and how far above another", () => {
    expect(median([5, 1, 3])).toBe(3);
    expect(median([4, 1, 3, 2])).toBe(3);
    expect(toPercent(103, 100)).toBe("+3.0 %");
    expect(toPercent(98, 100)).toBe("-2.0 %");
    expect(toPercent(5, 0)).toBe("+5");
    expect(toPercent(0, 0)).toBe("0 %");
  });

  test("grow with the power that fits best", () => {
    // 3 x^1.5 exactly.
    const points = [1, 4, 9, 100].map((x) => [x, 3 * x ** 1.5] as const);
    expect(exponent(points)).toBeCloseTo(1.5, 9);
  });

  test("stand in a table that Markdown reads", () => {
    expect(toMarkdown({ head: ["case", "cost"], rows: [["week-0", "12"]] })).toBe(
      "| case | cost |\n| --- | ---: |\n| week-0 | 12 |",
    );
  });
});
