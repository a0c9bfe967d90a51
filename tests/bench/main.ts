import { benchPlanner } from "./plannerBench.ts";

const usage = "Usage: bench planner [--seconds S] [--seeds N] [--only PATTERN]";
const [what, ...words] = process.argv.slice(2);

if (what !== "planner") {
  console.error(usage);
  process.exitCode = 2;
} else {
  const option = (name: string) => words[words.indexOf(name) + 1];
  benchPlanner({
    seconds: words.includes("--seconds") ? Number(option("--seconds")) : null,
    seeds: words.includes("--seeds") ? Number(option("--seeds")) : 5,
    only: new RegExp(words.includes("--only") ? (option("--only") ?? "") : ""),
  });
}
