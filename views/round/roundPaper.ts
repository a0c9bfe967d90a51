import type { DayRound } from "../../server/round/roundQueries.ts";
import { dayWords } from "../format/dates.ts";
import { spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import type { Paper, PaperShop } from "../papers/paper.ts";
import { arrivalWords, orderWords, thingWords } from "./roundWords.ts";

interface SheetFacts {
  readonly on: string;
  readonly phones: ReadonlyMap<number, string>;
  readonly shop: PaperShop;
}

/** The sheet one drives by: stop after stop, when, where, what to hand over, and a line to sign on. */
export function roundPaper(round: DayRound, { on, phones, shop }: SheetFacts): Paper {
  return {
    ...{ name: "Round sheet", number: on, dated: on, shop },
    to: { name: capitalised(spelled(round.stops.length, "stop")), address: dayWords(on, { year: true }) },
    facts: [
      ["Leaves", arrivalWords(round.driving.leavesMinute)],
      // Where no stop has a time, nobody knows when the van is back either.
      ...(round.unplaced < round.stops.length ? [["Back", arrivalWords(round.homeMinute)] as const] : []),
    ],
    columns: [
      { name: "Stop", number: false },
      { name: "Around", number: false },
      { name: "To hand over", number: false },
      { name: "Taken by (name, time)", number: false },
    ],
    rows: round.stops.map((stop, place) => ({
      cells: [
        {
          words: `${place + 1}. ${stop.customer}`,
          aside: [stop.address, phones.get(stop.customerId) ?? ""].filter((words) => words !== "").join(", "),
        },
        { words: arrivalWords(stop.arrivesMinute) },
        { words: stop.things.map(thingWords).join(", ") },
        { words: "____________________" },
      ],
    })),
    sums: [],
    notes: orderWords(round),
    signatures: ["Driven by"],
  };
}
