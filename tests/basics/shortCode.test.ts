import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isShortCode, shortCodeFrom } from "../../server/basics/shortCode.ts";

describe("the short code a name suggests", () => {
  it("joins its words and digits with hyphens, in plain small letters", () => {
    expect(shortCodeFrom("Cedar & Amber")).toBe("cedar-amber");
    expect(shortCodeFrom("  Ball, 60 mm ")).toBe("ball-60-mm");
    expect(shortCodeFrom("Crème Brûlée")).toBe("creme-brulee");
    expect(shortCodeFrom("Weißer Tee / Ærø")).toBe("weisser-tee-aero");
    expect(shortCodeFrom("Fisherman's Rest")).toBe("fishermans-rest");
  });

  it("is empty where nothing of the name can be written so", () => {
    expect(shortCodeFrom("球")).toBe("");
    expect(shortCodeFrom("—")).toBe("");
  });

  it("is a short code or empty, whatever the name", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 60 }), (name) => {
        const code = shortCodeFrom(name);
        expect(code === "" || isShortCode(code)).toBe(true);
      }),
    );
  });

  it("does not end in a hyphen when it is cut to 40 characters", () => {
    expect(shortCodeFrom(`${"x".repeat(39)} yz`)).toBe("x".repeat(39));
  });
});

describe("a short code", () => {
  it("has no capitals, no doubled or outer hyphens, and at most 40 characters", () => {
    expect(["ball-60", "a", "0-1"].every(isShortCode)).toBe(true);
    expect(["", "Ball", "a--b", "-a", "a-", "a b", "a_b", "ä"].some(isShortCode)).toBe(false);
    expect([isShortCode("x".repeat(40)), isShortCode("x".repeat(41))]).toEqual([true, false]);
  });
});
