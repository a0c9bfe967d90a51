import type { JsonCase } from "../../planning/independentChecker.ts";
import { exponent } from "../exponent.ts";
import { inChild } from "../inChild.ts";
import { toPlain } from "../table.ts";
import type { PlanRun } from "../tasks.ts";
import { ladder, piecesOf, worksCase } from "../worksCase.ts";
import { firstPlan } from "./firstPlan.ts";
import type { Section } from "./section.ts";

export function growthSection(): Section {
  return {
    name: "growth",
    title: "Growth",
    method: () => [
      "Drawn workshops in which orders, sessions, blends, molds and hands grow together (tests/bench/worksCase.ts), 2 s each, one seed. The exponent k is the slope of the straight line through the logarithms: growth like size to the power k.",
    ],
    measure: async (_, heard) => {
      const steps: { json: JsonCase; run: PlanRun; peakMegabytes: number }[] = [];
      for (const size of ladder) {
        const json = worksCase(size);
        const { value, coreShare, peakMegabytes } = await inChild("plan", { json, seeds: [1], seconds: 2 });
        heard(coreShare);
        for (const run of value) steps.push({ json, run, peakMegabytes });
      }
      const sizes: readonly (readonly [string, (json: JsonCase) => number])[] = [
        ["pieces", piecesOf],
        ["orders", (json) => json.orders.length],
        ["sessions", (json) => json.sessions.length],
        ["products", (json) => json.products.length],
      ];
      const timePerMove = ({ run }: (typeof steps)[number]) =>
        (run.seconds - (run.better[0]?.seconds ?? 0)) / Math.max(1, run.moves);
      const measures: readonly (readonly [string, (step: (typeof steps)[number]) => number])[] = [
        ["microseconds a move", (step) => timePerMove(step) * 1e6],
        ["first plan, ms", (step) => firstPlan([step.run]) * 1_000],
        ["MB", (step) => step.peakMegabytes],
      ];
      return {
        head: ["", ...sizes.map(([size]) => size), ...measures.map(([measure]) => measure)],
        rows: [
          ...steps.map((step) => [
            step.json.name,
            ...sizes.map(([, size]) => `${size(step.json)}`),
            ...measures.map(([, measure]) => toPlain(Math.round(measure(step) * 10) / 10)),
          ]),
          ...sizes.map(([name, size]) => [
            `exponent against ${name}`,
            ...sizes.map(() => ""),
            ...measures.map(([, measure]) =>
              exponent(steps.map((step) => [size(step.json), measure(step)])).toFixed(2),
            ),
          ]),
        ],
      };
    },
  };
}
