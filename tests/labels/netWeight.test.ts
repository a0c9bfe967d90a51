import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mostDeclarable, overstated } from "../../server/labels/netWeight.ts";

const gram = 1000;

/** The net weight a label may carry; worked with the exact ounce of NIST Handbook 44, appendix C: 28.349 523 125 g. */
describe("a net weight", () => {
  it.each([
    [130, 458],
    [113, 398],
    [170, 599],
    [118, 416],
  ])("of a piece that is dry at %d g is at most %d hundredths of an ounce", (grams, ounceHundredths) => {
    expect(mostDeclarable(grams * gram)).toEqual({ milligrams: grams * gram, ounceHundredths });
  });

  it("is rounded down in grams too, and to tenths where a piece is small", () => {
    // 4.5 oz are 127.57 g, which is 127 g and not 128.
    expect(mostDeclarable(127_573)).toEqual({ milligrams: 127_000, ounceHundredths: 450 });
    expect(mostDeclarable(9_990)).toEqual({ milligrams: 9_900, ounceHundredths: 35 });
  });

  it.each([
    ["4.5 oz of 130 g", 450, 130, []],
    ["4.58 oz of 130 g", 458, 130, []],
    ["4.59 oz of 130 g, which are 130.12 g", 459, 130, ["ounces"]],
    ["4.6 oz of 130 g, which are 130.41 g", 460, 130, ["ounces"]],
    ["4 oz of 113 g, which are 113.40 g", 400, 113, ["ounces"]],
    ["6 oz of 170 g, which are 170.10 g", 600, 170, ["ounces"]],
  ])("%s", (_, ounceHundredths, grams, wrong) => {
    const dry = grams * gram;
    expect(overstated({ milligrams: dry, ounceHundredths }, dry)).toEqual(wrong);
  });

  it("overstates with a gram more than the dry piece, and not with as much", () => {
    expect(overstated({ milligrams: 128_000, ounceHundredths: 450 }, 127_573)).toEqual(["grams"]);
    expect(overstated({ milligrams: 127_000, ounceHundredths: 450 }, 127_573)).toEqual([]);
  });

  it("never overstates as proposed, and a hundredth of an ounce or a step of grams more would", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2_000_000 }), (dry) => {
        const most = mostDeclarable(dry);
        expect(overstated(most, dry)).toEqual([]);
        const step = dry >= 10_000 ? 1000 : 100;
        const more = { milligrams: most.milligrams + step, ounceHundredths: most.ounceHundredths + 1 };
        expect(overstated(more, dry)).toEqual(["grams", "ounces"]);
      }),
    );
  });
});
