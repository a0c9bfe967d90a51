import { inChild } from "../inChild.ts";
import { median } from "../table.ts";
import type { Section } from "./section.ts";

const LINES = 5000;

/** What a long file of orders costs before anything of it is taken: reading it and holding it against what is known. */
export function orderFileSection(): Section {
  return {
    name: "orderfile",
    title: "A long file of orders",
    method: ({ seeds }) => [
      `${LINES} lines with quoted names, semicolons, decimal commas and dates with the day first, against 200 customers and 60 products; median and worst over seeds ${seeds.join(", ")}.`,
      "From the bytes to the checked orders, the first time in a process of its own; the database's share is not in it.",
    ],
    measure: async ({ seeds }, heard) => {
      const rows: (readonly string[])[] = [];
      for (const linesAnOrder of [1, 40]) {
        const seconds: number[] = [];
        for (const seed of seeds) {
          const { value, coreShare } = await inChild("orderFile", { lines: LINES, linesAnOrder, seed });
          heard(coreShare);
          seconds.push(value.seconds);
        }
        const lines = linesAnOrder === 1 ? "1 line an order" : `${linesAnOrder} lines an order`;
        rows.push([lines, median(seconds).toFixed(2), Math.max(...seconds).toFixed(2)]);
      }
      return { head: [`${LINES} lines`, "median, s", "worst, s"], rows };
    },
  };
}
