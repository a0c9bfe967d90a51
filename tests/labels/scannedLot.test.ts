import { describe, expect, it } from "vitest";
import { elementString } from "../../server/labels/gs1.ts";
import { scannedLot } from "../../server/labels/scannedLot.ts";

const GS = "\u001d";
const GTIN = "9521234543213";

describe("what a scanner types for a lot", () => {
  it("is the bare code, in any case, with blanks around it or the scanner's mark in front", () => {
    for (const typed of ["K7QF", " k7qf ", "]Q1K7QF"]) expect(scannedLot(typed)).toBe("K7QF");
  });

  it("is element (10) of the strings our own cards and labels hold, plain or bracketed", () => {
    for (const producedOn of ["2027-03-01", null]) {
      const { plain, bracketed } = elementString({ gtin: GTIN, producedOn, lot: "K7QF" });
      for (const typed of [plain, bracketed, `]Q3${plain}`, `]C1${GS}${plain}`])
        expect(scannedLot(typed)).toBe("K7QF");
    }
  });

  it("is found behind and before other elements, of fixed length or ended by a separator", () => {
    // Best before (15), count (37), serial (21), net weight (3103), own use (91).
    for (const typed of [
      `0109521234543213151 70301`.replaceAll(" ", ""),
      `010952123454321310K7QF${GS}2112345`,
      `2112345${GS}10K7QF`,
      `310300010510K7QF`,
      `91AB10CD${GS}10K7QF${GS}15270301`,
      `(01)09521234543213(21)10X(10)K7QF(15)270301`,
    ])
      expect([typed, scannedLot(typed)]).toEqual([typed, typed.includes("K7QF") ? "K7QF" : null]);
  });

  it("is not a (10) that only stands inside another element", () => {
    expect(scannedLot("0110101010101010")).toBeNull();
    expect(scannedLot("2110K7QF")).toBe("2110K7QF");
    expect(scannedLot("2110K7QF345")).toBeNull();
  });

  it("is nothing where there is no lot", () => {
    for (const typed of ["", "K7", "K7QF-", "a lot of soap", "10", "(10)", "4006381333931", `${GS}${GS}`])
      expect(scannedLot(typed)).toBeNull();
  });
});
