import { inChild } from "../inChild.ts";
import { toMilliseconds, toPlain } from "../table.ts";
import { works, worksCase } from "../worksCase.ts";
import { firstPlan } from "./firstPlan.ts";
import { highsPatience, type Section, shortened } from "./section.ts";

export function worksSection(): Section {
  return {
    name: "works",
    title: "Works",
    method: (extent) => [
      `A drawn works of 1,000 orders, some 40,000 pieces and 60 sessions (tests/bench/worksCase.ts), ${shortened(extent, 20)} s a seed. The first plan's time is from the parsed case, on cold code: what compiles it meanwhile on another core is counted by the processor, not by the clock. Memory is the most the process ever held, Node itself included.`,
      ...(extent.quick ? [] : [`HiGHS got ${highsPatience(extent)} s; - where it found no plan.`]),
    ],
    measure: async (extent, heard) => {
      const json = worksCase(works);
      const rows: (readonly string[])[] = [];
      const seeds = extent.quick ? extent.seeds.slice(0, 2) : extent.seeds;
      for (const seed of seeds) {
        const seconds = shortened(extent, 20);
        const { value, coreShare, peakMegabytes } = await inChild("plan", { json, seeds: [seed], seconds });
        heard(coreShare);
        for (const run of value) {
          const first = run.better[0]?.cost ?? Number.NaN;
          rows.push([
            `${seed}`,
            toMilliseconds(firstPlan([run])),
            toMilliseconds(run.firstClockSeconds),
            toPlain(first),
            toPlain(run.cost),
            `${((run.cost / first) * 100).toFixed(0)} %`,
            toPlain(run.bound),
            `${Math.round(run.moves / run.seconds)}`,
            peakMegabytes.toFixed(0),
          ]);
        }
      }
      if (!extent.quick) {
        const { value, peakMegabytes } = await inChild("highs", { json, seconds: highsPatience(extent) });
        const first = value.better[0];
        rows.push([
          "HiGHS",
          toMilliseconds(first?.seconds ?? Number.NaN),
          "",
          toPlain(first?.cost ?? null),
          toPlain(value.cost),
          "",
          toPlain(value.bound),
          "",
          peakMegabytes.toFixed(0),
        ]);
      }
      return {
        head: [
          "seed",
          "first plan, ms",
          "by the clock, ms",
          "its cost",
          "cost",
          "of the first",
          "bound",
          "moves a second",
          "MB",
        ],
        rows,
      };
    },
  };
}
