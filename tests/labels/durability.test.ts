import { describe, expect, it } from "vitest";
import { durabilityOf } from "../../server/labels/durability.ts";
import { labelContent } from "../../server/labels/labelContent.ts";
import { labelWords } from "../../views/labels/labelWords.ts";
import { maker, pieces } from "./labelRoom.ts";

const wordsFor = (
  madeOn: string | null,
  durabilityMonths: number | null,
  market: "us" | "eu" | "uk" | "none" = "eu",
) => labelWords(labelContent(pieces({ madeOn, durabilityMonths }), maker({ market }))).durability;

/**
 * Regulation (EC) 1223/2009, Article 19(1)(c), from memory: the date is "preceded by ... the words: 'best used before the end
 * of'" and consists "of either the month and year or the day, month and year"; it "shall not be mandatory for cosmetic
 * products with a minimum durability of more than 30 months".
 */
describe("a date of minimum durability", () => {
  it("stands behind the words of the regulation, in the European Union and the United Kingdom", () => {
    expect(wordsFor("2027-03-31", 12)).toBe("Best used before the end of March 2028");
    expect(wordsFor("2027-03-31", 12, "uk")).toBe("Best used before the end of March 2028");
    expect([wordsFor("2027-03-31", 12, "us"), wordsFor("2027-03-31", 12, "none")]).toEqual(["", ""]);
  });

  it("is asked for up to 30 months, and not above", () => {
    expect(wordsFor("2027-03-31", 30)).toBe("Best used before the end of September 2029");
    expect(wordsFor("2027-03-31", 31)).toBe("");
    expect(durabilityOf({ durabilityMonths: 31, madeOn: "2027-03-31" }, "eu")).toEqual({
      ...{ kind: "long", months: 31 },
    });
  });

  it("is left out where nobody knows the months, or the day they count from", () => {
    expect([wordsFor("2027-03-31", null), wordsFor(null, 12)]).toEqual(["", ""]);
  });

  /** Regulation (EEC, Euratom) 1182/71, Article 3(2)(c), from memory: to the same day of the last month, or to its last day. */
  it.each([
    ["a month that is not over yet is not named", "2027-03-30", 12, "February 2028"],
    ["the first of a month says the one before", "2027-03-01", 12, "February 2028"],
    ["a last day says its month", "2027-04-30", 12, "April 2028"],
    ["a month without such a day ends with its last one", "2027-05-31", 1, "June 2027"],
    ["so does February", "2027-12-31", 2, "February 2028"],
    ["28 February is not the end of the next leap year's", "2027-02-28", 12, "January 2028"],
    ["29 February keeps to the end of the next year's", "2028-02-29", 12, "February 2029"],
    ["a year's end is crossed backwards", "2027-01-15", 12, "December 2027"],
    ["one month from the middle is the month itself", "2027-03-15", 1, "March 2027"],
  ])("never says more than was stated: %s", (_, madeOn, months, expected) => {
    expect(wordsFor(madeOn, months)).toBe(`Best used before the end of ${expected}`);
  });
});
