import { describe, expect, it } from "vitest";
import { checkDigit, elementString, gtin13, isKey, productNumbers } from "../../server/labels/gs1.ts";

/** Check digits as GS1 publishes them: examples of gs1.org and of the General Specifications, 7.9. */
describe("a check digit", () => {
  it.each([
    ["629104150021", 3],
    ["730001100001", 7],
    ["4098765000022", 3],
    ["37610425002123456", 9],
  ])("behind %s is %d", (digits, expected) => {
    expect(checkDigit(digits)).toBe(expected);
  });

  it.each(["02345673", "416000336108", "1234567890128", "12345678901231", "123456789012345675"])(
    "makes %s a key",
    (key) => {
      expect(isKey(key)).toBe(true);
    },
  );

  it.each([
    "12345673",
    "416000336109",
    "1234567890129",
    "12345678901232",
    "123456789012345670",
    "123456789 0128",
    "1234567890128 ",
    "",
    "1234567890",
  ])("does not make %j one", (key) => {
    expect(isKey(key)).toBe(false);
  });

  it("finds every single wrong digit", () => {
    const key = "6291041500213";
    for (let at = 0; at < key.length; at++) {
      for (let digit = 0; digit < 10; digit++) {
        const changed = key.slice(0, at) + digit + key.slice(at + 1);
        expect(isKey(changed), changed).toBe(changed === key);
      }
    }
  });
});

describe("a product's number", () => {
  it("is the shop's own prefix, its number for the product and the check digit", () => {
    expect(gtin13("6291041", 50021)).toBe("6291041500213");
    expect(gtin13("730001100", 1)).toBe("7300011000017");
  });

  it("is refused where the prefix has none left", () => {
    expect(productNumbers("730001100")).toBe(1000);
    expect(gtin13("730001100", 999)).toHaveLength(13);
    expect(() => gtin13("730001100", 1000)).toThrow("no product number 1000");
    expect(() => gtin13("73", 1)).toThrow("not a company prefix");
  });
});

/** The syntax of element strings: GS1 Syntax Dictionary, identifiers 01, 10 and 11. */
describe("an element string", () => {
  it("says product, date and lot, the one of open length last", () => {
    expect(elementString({ gtin: "6291041500213", producedOn: "2026-03-02", lot: "BB-0302-A" })).toEqual({
      plain: "01062910415002131126030210BB-0302-A",
      bracketed: "(01)06291041500213(11)260302(10)BB-0302-A",
    });
  });

  it("leaves out what nobody knows", () => {
    expect(elementString({ gtin: "6291041500213", producedOn: null, lot: null }).bracketed).toBe(
      "(01)06291041500213",
    );
  });

  it("is never made of a wrong number", () => {
    expect(() => elementString({ gtin: "6291041500214", producedOn: null, lot: "K7" })).toThrow("not a GTIN");
    expect(() => elementString({ gtin: "6291041500213", producedOn: null, lot: "K 7" })).toThrow("not a lot");
  });
});
