import { describe, expect, it } from "vitest";
import { z } from "zod";
import {
  blankOr,
  clockField,
  dateField,
  decimalField,
  idField,
  repeatedField,
  textField,
  tickField,
  wholeNumberField,
} from "../../server/http/formFields.ts";

describe("a whole number", () => {
  const sets = wholeNumberField({ least: 0, most: 500 });

  it("is taken between its bounds, both included", () => {
    expect(["0", "24", " 500 ", "1 00"].map((typed) => taken(sets, typed))).toEqual([0, 24, 500, 100]);
  });

  it.each(["-1", "501", "2.5", "1e2", "0x10", "twelve", "99999999999999"])(
    "is not taken from %j",
    (typed) => {
      expect(mistake(sets, typed)).toBe("Give a whole number from 0 to 500.");
    },
  );

  it("is never read out of a blank", () => {
    expect(["", "   ", undefined].map((typed) => mistake(sets, typed))).toEqual([
      "Fill this in.",
      "Fill this in.",
      "Fill this in.",
    ]);
  });
});

describe("a decimal number", () => {
  const seconds = decimalField({ least: 0, most: 100, decimals: 2 });

  it("is taken with a point or a comma", () => {
    expect(["0.75", "0,75", "100"].map((typed) => taken(seconds, typed))).toEqual([0.75, 0.75, 100]);
  });

  it("is taken and limited in groups of three, as numbers are shown", () => {
    const grams = decimalField({ least: 0, most: 200_000, decimals: 3 });
    expect(["2 600,5", "2\u202f600.5"].map((typed) => taken(grams, typed))).toEqual([2600.5, 2600.5]);
    expect(mistake(grams, "200001")).toBe("Give a number from 0 to 200\u202f000 with at most 3 decimals.");
  });

  it.each(["0.755", "100.01", "-0.01", "Infinity", "NaN", ".", "1.2.3"])("is not taken from %j", (typed) => {
    expect(mistake(seconds, typed)).toBe("Give a number from 0 to 100 with at most 2 decimals.");
  });
});

describe("a date", () => {
  it("is one of the calendar", () => {
    expect(taken(dateField(), "2028-02-29")).toBe("2028-02-29");
    expect(mistake(dateField(), "2027-02-29")).toContain("Give a date of the calendar");
    expect(mistake(dateField(), "05.03.2027")).toContain("Give a date of the calendar");
  });
});

describe("a clock time", () => {
  it("becomes minutes from midnight", () => {
    expect(taken(clockField(), "09:30")).toBe(570);
    expect(taken(clockField(), "23:59")).toBe(1439);
  });

  it.each(["24:00", "9:30", "09:60", ""])("is not taken from %j", (typed) => {
    expect(mistake(clockField(), typed)).toBe("Give a time, such as 09:30.");
  });
});

describe("a tick", () => {
  it("is yes only when it was ticked", () => {
    expect(taken(tickField(), "yes")).toBe(true);
    expect(taken(tickField(), undefined)).toBe(false);
    expect(mistake(tickField(), "false")).toBe("Tick it or leave it.");
  });
});

describe("text", () => {
  it("is trimmed and limited", () => {
    const name = textField({ most: 5 });
    expect(taken(name, "  cedar ")).toBe("cedar");
    expect(mistake(name, "cedars")).toBe("Use at most 5 characters.");
    expect(mistake(name, "  ")).toBe("Fill this in.");
    expect(mistake(name, ["a", "b"])).toBe("Fill this in.");
  });

  it("refuses the one character that a text column cannot hold", () => {
    expect(mistake(textField({ most: 50 }), "ce\u0000dar")).toContain("null character");
  });

  it("may be left out where it is allowed to be blank", () => {
    expect(taken(textField({ most: 5, blank: true }), undefined)).toBe("");
  });
});

describe("a field that may be left blank", () => {
  const day = blankOr(dateField());

  it("is nothing when it is blank or not sent at all", () => {
    expect(["", "  ", undefined].map((sent) => taken(day, sent))).toEqual([null, null, null]);
    expect(z.object({ day }).parse({})).toEqual({ day: null });
  });

  it("says what is wrong in the words of the field itself", () => {
    expect(taken(day, "2027-03-05")).toBe("2027-03-05");
    expect(mistake(day, "2027-02-30")).toContain("a date of the calendar");
    expect(mistake(day, ["2027-03-05", "2027-03-06"])).toBe("Choose a date.");
    expect(mistake(blankOr(decimalField({ least: 0, most: 1, decimals: 2 })), "dark")).toContain(
      "from 0 to 1",
    );
  });
});

describe("a row's number", () => {
  it("is a plain positive number", () => {
    expect(taken(idField(), "17")).toBe(17);
    for (const typed of ["0", "-1", "1.5", "01", "9999999999", "1; drop table"]) {
      expect(mistake(idField("Pick one."), typed)).toBe("Pick one.");
    }
  });
});

describe("a field sent several times", () => {
  it("is always a list", () => {
    expect([undefined, "a", ["a", "b"]].map((sent) => taken(repeatedField(), sent))).toEqual([
      [],
      ["a"],
      ["a", "b"],
    ]);
  });
});

function taken<Value>(field: z.ZodType<Value>, typed: unknown): Value {
  return field.parse(typed);
}

function mistake(field: z.ZodType, typed: unknown): string | undefined {
  const parsed = field.safeParse(typed);
  return parsed.success ? undefined : parsed.error.issues[0]?.message;
}
