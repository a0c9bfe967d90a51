import { inChild } from "../inChild.ts";
import { toMilliseconds } from "../table.ts";
import type { Extent, Section } from "./section.ts";

export function tinySection(): Section {
  const cases = ({ quick }: Extent) => (quick ? 100 : 300);
  return {
    name: "tiny",
    title: "Tiny cases",
    method: (extent) => [
      `${cases(extent)} drawn cases of 3 to 5 sessions, 50 ms each for the search: of the 60 that a case may take, 10 are left for what is done before and after it. Best and bound are compared with the best plan found by trying everything, in cost and in hand minutes.`,
      "Proof: the prover (server/proving) by itself, at most 5 s a case.",
      "HiGHS got 5 s a case for both stages, cost first and then minutes.",
    ],
    measure: async (extent, heard) => {
      const input = { cases: cases(extent), seeds: extent.seeds, seconds: 0.05 };
      const { value: runs, coreShare } = await inChild("tiny", input);
      heard(coreShare);
      const proofs = await inChild("tinyProofs", { cases: cases(extent), seconds: 5 });
      heard(proofs.coreShare);
      const { value: highs } = await inChild("tinyHighs", { cases: extent.quick ? 30 : 300, seconds: 5 });
      return {
        head: ["seed", "best plans", "of", "bound is the optimum", "slowest case, ms"],
        rows: [
          ...runs.map((run) => [
            `${run.seed}`,
            `${run.best}`,
            `${run.cases}`,
            `${run.boundTight}`,
            toMilliseconds(run.slowest),
          ]),
          [
            "proof",
            "-",
            `${proofs.value.cases}`,
            `${proofs.value.tight}`,
            toMilliseconds(proofs.value.slowest),
          ],
          ["HiGHS", `${highs.agree}`, `${highs.cases}`, `${highs.proven} proven`, "-"],
        ],
      };
    },
  };
}
