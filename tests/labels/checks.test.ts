import { describe, expect, it } from "vitest";
import { checkLabel, type LabelCheck } from "../../server/labels/checks.ts";
import { openFaces } from "../../server/labels/faces.ts";
import { type LabelledPieces, type LabelMaker, labelContent } from "../../server/labels/labelContent.ts";
import { type LabelSide, layLabel } from "../../server/labels/layLabel.ts";
import type { SheetSize } from "../../server/labels/sheet.ts";
import { checkWords } from "../../views/labels/checkWords.ts";
import { foamingMix, maker, part, pieces, sheetOf } from "./labelRoom.ts";

const faces = openFaces();

interface Given {
  readonly pieces?: Partial<LabelledPieces>;
  readonly maker?: Partial<LabelMaker>;
  readonly side?: LabelSide;
  readonly sheet?: SheetSize;
}

function look(given: Given) {
  const labelled = pieces(given.pieces);
  const content = labelContent(labelled, maker(given.maker));
  const { side = "all", sheet = sheetOf(102, 76) } = given;
  const laid = layLabel(content, side, sheet, faces);
  const lines = laid.fits ? laid.lines : [];
  const { declaredMilligrams } = labelled;
  const checks = checkLabel({ content, side, sheet, lines, faces, declaredMilligrams });
  return { content, checks, lines };
}

function found(given: Given, about: LabelCheck["about"]): readonly LabelCheck[] {
  return look(given).checks.filter((check) => check.about === about);
}

const broken = (given: Given) =>
  look(given).checks.flatMap((check) => (check.verdict === "broken" ? [check.about] : []));

describe("a label", () => {
  it("on which all stands has nothing broken, in any market", () => {
    for (const market of ["us", "eu", "uk"] as const)
      expect([market, broken({ maker: { market } })]).toEqual([market, []]);
    const named = foamingMix.map((one) => ({ ...one, labelName: one.labelName || "Parfum" }));
    expect(broken({ maker: { market: "none" }, pieces: { parts: named } })).toEqual([]);
  });

  it("without a recipe has neither net weight nor ingredients", () => {
    expect(broken({ pieces: { parts: null } })).toEqual(["recipe"]);
    expect(broken({ pieces: { parts: null }, side: "front" })).toEqual(["recipe"]);
    expect(broken({ pieces: { parts: null }, side: "back" })).toEqual(["recipe"]);
  });

  it("without a lot says so where the lot belongs", () => {
    expect(broken({ pieces: { lotCode: null } })).toEqual(["lot"]);
    expect(broken({ pieces: { lotCode: null }, side: "front" })).toEqual(["lot"]);
    expect(broken({ pieces: { lotCode: null }, side: "back" })).toEqual([]);
  });

  it("without its maker, or in the United States without a contact, says so on the back", () => {
    expect(broken({ maker: { makerName: "" } })).toEqual(["maker"]);
    expect(broken({ maker: { makerPlace: "" }, side: "back" })).toEqual(["maker"]);
    expect(broken({ maker: { makerName: "" }, side: "front" })).toEqual([]);
    expect(broken({ maker: { contact: "" } })).toEqual(["contact"]);
    expect(broken({ maker: { contact: "", market: "eu" } })).toEqual([]);
  });

  it("with an ingredient that has no label's name says so", () => {
    expect(broken({ pieces: { parts: [part("Soda", 100, { labelName: "" })] } })).toEqual(["names"]);
  });

  it("says that the order of ingredients is made here, and asks about a name that is a mixture", () => {
    expect(found({}, "order")).toEqual([{ about: "order", verdict: "made" }]);
    const mixed = (...names: string[]) =>
      found(
        {
          maker: { market: "eu" },
          pieces: { parts: names.map((name) => part(name, 1, { labelName: name })) },
        },
        "several",
      );
    expect(mixed("1,2-Hexanediol", "PEG-8/SMDI Copolymer", "Sodium Bicarbonate")).toEqual([]);
    for (const name of ["Glycerin, Aqua", "Talc (and) Silica", "Glycerin & Aqua", "Glycerin; Aqua"])
      expect(mixed("Sodium Bicarbonate", name)).toEqual([
        { about: "several", names: [name], verdict: "see" },
      ]);
    // Colours stand in any order, and all scents are one word.
    const free = [part("Mica, CI 77491", 1, { kind: "colour" }), part("Cedar, oat", 1, { kind: "scent" })];
    expect(found({ maker: { market: "eu" }, pieces: { parts: free } }, "several")).toEqual([]);
  });

  it("without its date of durability says what is missing, in front where the lot stands", () => {
    const eu = { market: "eu" } as const;
    const lacking = (given: Partial<LabelledPieces>, side: LabelSide = "all") =>
      found({ maker: eu, pieces: given, side }, "durability");
    expect(lacking({})).toMatchObject([{ found: { kind: "dated", lastMonth: "2028-02" }, verdict: "kept" }]);
    expect(lacking({ durabilityMonths: null })).toMatchObject([
      { found: { kind: "unstated" }, verdict: "broken" },
    ]);
    expect(lacking({ madeOn: null }, "front")).toMatchObject([
      { found: { kind: "no-day" }, verdict: "broken" },
    ]);
    expect(lacking({ durabilityMonths: 31, madeOn: null })).toMatchObject([
      { found: { kind: "long" }, verdict: "kept" },
    ]);
    expect(lacking({ durabilityMonths: null }, "back")).toEqual([]);
    expect(found({ pieces: { durabilityMonths: null } }, "durability")).toEqual([]);
  });

  it("tells what allergens it names, and of which scent nobody entered a statement", () => {
    const stated = (sharePpm: number) =>
      foamingMix.map((one) =>
        one.kind === "scent" ? { ...one, allergens: [{ name: "Linalool", sharePpm }] } : one,
      );
    const eu = { market: "eu" } as const;
    // 1.4 g of oil in 96 g that stay: 6857 millionths of it are 0.00999997 %, one more is above 0.01 %.
    const about = (sharePpm: number) =>
      found({ maker: eu, pieces: { parts: stated(sharePpm) } }, "allergens");
    expect(about(6858)).toEqual([{ about: "allergens", named: ["Linalool"], verdict: "kept" }]);
    expect(about(6857)).toEqual([{ about: "allergens", named: [], verdict: "kept" }]);
    expect(found({ maker: eu, pieces: { parts: stated(1) } }, "no-statement")).toEqual([]);
    expect(found({ maker: eu }, "no-statement")).toEqual([
      { about: "no-statement", scents: ["Cedar scent oil"], verdict: "see" },
    ]);
    // That nothing is above the limit is never said of a scent nobody knows.
    expect(found({ maker: eu }, "allergens")).toEqual([]);
    expect(found({ maker: eu, side: "front" }, "no-statement")).toEqual([]);
    expect([found({}, "allergens"), found({}, "no-statement")]).toEqual([[], []]);
  });

  it("on which an allergen is missing says which", () => {
    const { content, lines } = look({ maker: { market: "eu" } });
    const lacking = {
      ...content,
      allergens: { toName: [{ name: "Linalool", milligramsPerKilogram: 500 }], unstated: [] },
    };
    const [check] = checkLabel({
      ...{ content: lacking, side: "all", sheet: sheetOf(102, 76), lines, faces, declaredMilligrams: null },
    });
    expect(check).toEqual({ about: "allergens", named: ["Linalool"], verdict: "broken" });
    expect(check && checkWords(check, lacking)).toEqual({
      sentence: "Listed allergens above 0.01 per cent of the dry piece are missing: Linalool.",
      source: "Regulation (EC) 1223/2009, Annex III, as amended by Regulation (EU) 2023/1545",
    });
  });

  it("tells why the caution for foaming baths stands there or not", () => {
    expect(found({}, "bath-caution")).toMatchObject([{ because: "present", verdict: "kept" }]);
    expect(found({ maker: { adultsOnly: true } }, "bath-caution")).toMatchObject([
      { because: "adults-only" },
    ]);
    expect(found({ maker: { market: "eu" } }, "bath-caution")).toEqual([]);
  });

  it("says where the weight that was wished for is more than a dry piece", () => {
    const declared = (declaredMilligrams: number) => found({ pieces: { declaredMilligrams } }, "weight");
    expect(declared(120_000)).toMatchObject([{ declared: "as-wished", verdict: "kept" }]);
    expect(declared(124_800)).toMatchObject([{ declared: "as-wished" }]);
    expect(declared(124_801)).toMatchObject([{ declared: "above-dry", verdict: "kept" }]);
  });
});

/** 21 CFR 701.13, 701.3, 740.2 and Directive 76/211/EEC, annex I: see the tests of the heights themselves. */
describe("letters", () => {
  const sixteenth = 25_400 / 16;

  it("are as high as the United States ask for, measured on the small ones", () => {
    // 102 x 76 mm are 12.0155 square inches: an eighth of an inch for the weight, a sixteenth for the rest.
    const heights = found({}, "height");
    expect(heights).toMatchObject([
      { role: "weight", leastMicrometres: 2 * sixteenth, verdict: "kept" },
      { role: "ingredients", leastMicrometres: sixteenth, verdict: "kept" },
      { role: "cautions", leastMicrometres: sixteenth, verdict: "kept" },
    ]);
  });

  it("of the ingredients may be half as high on less than 12 square inches", () => {
    const sheet = sheetOf(102, 75);
    expect(found({ sheet, side: "back" }, "height")).toMatchObject([
      { role: "ingredients", leastMicrometres: sixteenth / 2 },
      { role: "cautions", leastMicrometres: sixteenth },
    ]);
  });

  it("are 3 mm high for 124 g in the European Union, measured on the figures as they are printed", () => {
    const { lines } = look({ maker: { market: "eu" }, sheet: sheetOf(70, 60) });
    const weight = lines.find(({ role }) => role === "weight");
    expect(found({ maker: { market: "eu" }, sheet: sheetOf(70, 60) }, "height")).toMatchObject([
      { role: "weight", leastMicrometres: 3000, verdict: "kept" },
    ]);
    // The lowest figure of the bold face is 586 thousandths of the em high: "four" as its own file draws it.
    expect((weight?.size ?? 0) * 0.586).toBeGreaterThanOrEqual(3000);
  });

  it("that were set too small are told", () => {
    const { content, lines } = look({});
    const sheet = sheetOf(102, 76);
    const smaller = lines.map((line) => ({ ...line, size: line.size / 2 }));
    const checks = checkLabel({
      content,
      side: "all",
      sheet,
      lines: smaller,
      faces,
      declaredMilligrams: null,
    });
    const broken = checks.filter(({ verdict }) => verdict === "broken");
    expect(broken.map((check) => check.about === "height" && check.role)).toEqual([
      "weight",
      "ingredients",
      "cautions",
    ]);
  });
});

describe("the net weight's place", () => {
  it("is the lowest 30 per cent in the United States, above 5 square inches", () => {
    expect(found({ side: "front" }, "foot")).toMatchObject([{ verdict: "kept" }]);
    // 56 x 57 mm are 4.95 square inches.
    expect(found({ side: "front", sheet: sheetOf(56, 57) }, "foot")).toEqual([]);
    expect(found({ side: "front", maker: { market: "eu" } }, "foot")).toEqual([]);
    // A circle leaves the lowest part too narrow for it.
    expect(found({ side: "front", sheet: sheetOf(90, 90, { isRound: true }) }, "foot")).toMatchObject([
      { verdict: "see" },
    ]);
  });
});

describe("every check", () => {
  it("names where its rule stands, and says where that is from memory", () => {
    for (const market of ["us", "eu", "uk", "none"] as const) {
      for (const given of [
        {},
        { pieces: { parts: null, lotCode: null, madeOn: null } },
        { pieces: { parts: [part("Glycerin, Aqua", 100)], durabilityMonths: null } },
        { pieces: { durabilityMonths: 31 } },
      ]) {
        const { checks, content } = look({ ...given, maker: { market } });
        for (const check of checks) {
          const { sentence, source } = checkWords(check, content);
          expect(sentence, JSON.stringify(check)).toMatch(/\.$/);
          expect(source, JSON.stringify(check)).not.toBe("");
        }
      }
    }
    const us = look({});
    const sources = us.checks.map((check) => checkWords(check, us.content).source);
    expect(sources.filter((source) => source.includes("740.2,"))).toEqual(["21 CFR 740.2, from memory"]);
  });
});
