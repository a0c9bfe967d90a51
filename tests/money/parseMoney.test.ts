import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { currencyCodes, decimalsOf } from "../../server/money/currencies.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { parseMoney } from "../../server/money/parseMoney.ts";
import { moneyWords, plainMoney } from "../../views/format/money.ts";

/** Minor units, or why not. */
function read(typed: string, currency = "EUR"): number | string {
  const parsed = parseMoney(typed, currency);
  return parsed.ok ? parsed.value : parsed.refusal;
}

describe("an amount as it is typed", () => {
  it("has a decimal point or a decimal comma", () => {
    expect([read("4.50"), read("4,50"), read("4,5"), read("4"), read("0.05"), read(" 04.50 ")]).toEqual([
      450, 450, 450, 400, 5, 450,
    ]);
  });

  it("may have its thousands apart, in every country's way", () => {
    const ways = ["1,234.50", "1.234,50", "1 234,50", "1\u202f234.50", "1'234.50", "1’234,50"];
    expect(ways.map((typed) => read(typed))).toEqual(ways.map(() => 123_450));
    expect([read("1.234.567"), read("1,234,567")]).toEqual([123_456_700, 123_456_700]);
  });

  it("may carry its own currency, and no other", () => {
    expect([read("€ 4.50"), read("4,50 EUR"), read("4.50€"), read("450 JPY", "JPY")]).toEqual([
      450, 450, 450, 450,
    ]);
    expect([read("$4.50"), read("4.50 USD")]).toEqual(["not-an-amount", "not-an-amount"]);
  });

  it("is not guessed where it can be read in two ways", () => {
    expect([read("1.234"), read("1,234"), read("12.345")]).toEqual(["ambiguous", "ambiguous", "ambiguous"]);
    expect([read("1234"), read("1234.00"), read("0.234"), read("1234.567")]).toEqual([
      123_400,
      123_400,
      "too-many-decimals",
      "too-many-decimals",
    ]);
  });

  it("has the decimals of its currency: none, three, four", () => {
    expect([read("450", "JPY"), read("1,234", "JPY"), read("4.5", "JPY"), read("4.50", "JPY")]).toEqual([
      450,
      1234,
      "too-many-decimals",
      "too-many-decimals",
    ]);
    expect([
      read("4.500", "KWD"),
      read("4,5", "KWD"),
      read("4.5005", "KWD"),
      read("1,234.500", "KWD"),
    ]).toEqual([4500, 4500, "too-many-decimals", 1_234_500]);
    expect([read("4.5005", "CLF"), read("4.500", "CLF")]).toEqual([45_005, "ambiguous"]);
  });

  it("is refused when it is none", () => {
    const wrong = [
      "",
      " ",
      "-4.50",
      "+4",
      "four",
      "4.5.0",
      "1,23,456.00",
      "1 23",
      ".50",
      "5.",
      "٤",
      "1e3",
      "0x10",
    ];
    expect(wrong.filter((typed) => read(typed) !== "not-an-amount")).toEqual([]);
    expect([read("9".repeat(13)), read("9".repeat(14)), read("9".repeat(400))]).toEqual([
      999_999_999_999_900,
      "too-much",
      "too-much",
    ]);
  });

  it("comes back the same when it is shown and read again, in every currency", () => {
    const amount = fc.integer({ min: 0, max: 99_999_999_999 }).map(minorUnits);
    fc.assert(
      fc.property(amount, fc.constantFrom(...currencyCodes), (minor, currency) => {
        expect(read(plainMoney(minor, currency), currency)).toBe(
          // "4.500" of a currency with four decimals does not come up: all of its decimals are written.
          minor,
        );
      }),
    );
    expect(decimalsOf("EUR")).toBe(2);
  });
});

describe("an amount as it is shown", () => {
  it("has its currency and all of its decimals", () => {
    expect(moneyWords(450, "EUR")).toBe("€4.50");
    expect(moneyWords(123_456_789, "GBP")).toBe("£1\u202f234\u202f567.89");
    expect(moneyWords(5, "USD")).toBe("US$0.05");
    expect(moneyWords(450, "JPY")).toBe("JP¥450");
    expect(moneyWords(4500, "KWD")).toBe("KWD\u00a04.500");
    expect(moneyWords(45_005, "CLF")).toBe("CLF\u00a04.5005");
  });

  it("is exact up to the largest amount a number can hold", () => {
    expect(moneyWords(Number.MAX_SAFE_INTEGER, "EUR")).toBe("€90\u202f071\u202f992\u202f547\u202f409.91");
    expect(() => minorUnits(2 ** 53)).toThrow(RangeError);
    expect(() => minorUnits(0.5)).toThrow(RangeError);
  });
});
