import { jsonOfFile } from "../../planning/caseFiles.ts";
import { inChild } from "../inChild.ts";
import { median } from "../table.ts";
import type { Extent, Section } from "./section.ts";

export function questionSection(name: string, title: string, task: "holdUps" | "promise"): Section {
  const cases: readonly string[] = ["week-1", "week-2", "week-5", "fortnight-1", "fortnight-2", "season-0"];
  const moves = task === "promise" ? "4,000 moves in all" : "1,000 moves for each re-plan";
  const seedsOf = ({ quick, seeds }: Extent) => (quick ? seeds.slice(0, 1) : seeds);
  return {
    name,
    title,
    method: (extent) => [
      `Processor time of the question alone, asked about a finished plan, with ${moves}; median and worst over seeds ${seedsOf(extent).join(", ")}.`,
      "The first seed asks on cold code, which is compiled meanwhile on another core: the processor counts that too, whoever waits does not. By the clock: the worst of all seeds as a user sees it.",
    ],
    measure: async (extent, heard) => {
      const rows: (readonly string[])[] = [];
      for (const each of cases) {
        const json = jsonOfFile(`${each}.json`);
        const { value, coreShare } = await inChild(task, { json, seeds: seedsOf(extent), seconds: 0.5 });
        heard(coreShare);
        const seconds = value.map((run) => run.seconds);
        const byTheClock = Math.max(...value.map((run) => run.clockSeconds));
        rows.push([each, median(seconds).toFixed(2), Math.max(...seconds).toFixed(2), byTheClock.toFixed(2)]);
      }
      return { head: ["case", "median, s", "worst, s", "worst by the clock, s"], rows };
    },
  };
}
