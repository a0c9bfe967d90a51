import { type Tasks, tasks } from "./tasks.ts";

/** What a process that does one task sends back. */
export interface Done<Value> {
  readonly value: Value;
  /** Most memory the process ever held, Node itself included. */
  readonly peakMegabytes: number;
  /** Share of one core it got between start and end of the task, 0 to 1: how far others were in the way. */
  readonly coreShare: number;
}

process.once("message", async ({ name, input }: { name: keyof Tasks; input: never }) => {
  const begun = performance.now();
  const used = process.cpuUsage();
  const value = await tasks[name](input);
  const { user, system } = process.cpuUsage(used);
  const done: Done<unknown> = {
    value,
    peakMegabytes: process.resourceUsage().maxRSS / 1_024,
    coreShare: Math.min(1, (user + system) / 1_000 / (performance.now() - begun)),
  };
  process.send?.(done, () => process.disconnect());
});
