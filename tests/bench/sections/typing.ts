import { jsonOfFile } from "../../planning/caseFiles.ts";
import { inChild } from "../inChild.ts";
import { median } from "../table.ts";
import type { Extent, Section } from "./section.ts";

/** What whoever types an order waits for: the server's own work for a promise, its seconds as the server gives them. */
export function typingSection(): Section {
  const cases: readonly string[] = ["week-2", "fortnight-0", "fortnight-1", "fortnight-2"];
  const seedsOf = ({ quick, seeds }: Extent) => (quick ? seeds.slice(0, 1) : seeds);
  return {
    name: "typing",
    title: "Promise while an order is typed",
    method: (extent) => [
      `A wished date on the case's third day, so that pieces and rest are looked for too; median and worst over seeds ${seedsOf(extent).join(", ")}.`,
      "First with the followed plan as it is, then with one that has to be brought up to date before.",
    ],
    measure: async (extent, heard) => {
      const rows: (readonly string[])[] = [];
      for (const each of cases) {
        const json = jsonOfFile(`${each}.json`);
        const asked = { json, seeds: seedsOf(extent), seconds: 0.5 };
        const { value, coreShare } = await inChild("typing", asked);
        heard(coreShare);
        const of = (kind: "current" | "outOfDate") => value.map((run) => run[kind]);
        rows.push([
          each,
          ...(["current", "outOfDate"] as const).flatMap((kind) => [
            median(of(kind)).toFixed(2),
            Math.max(...of(kind)).toFixed(2),
          ]),
        ]);
      }
      return { head: ["case", "median, s", "worst, s", "out of date, median, s", "worst, s"], rows };
    },
  };
}
