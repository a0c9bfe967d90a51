import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsv } from "../../server/orders/readCsv.ts";

/*
 * RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV) Files", section 2: its seven rules with
 * the examples given there, written down from memory.
 */
describe("the rules of RFC 4180, section 2", () => {
  it.each([
    [
      "1: records on lines of their own, CRLF between",
      "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      "2: the last record may end without a line break",
      "aaa,bbb,ccc\r\nzzz,yyy,xxx",
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      "3: a header line like any record",
      "field_name,field_name,field_name\r\naaa,bbb,ccc\r\n",
      [
        ["field_name", "field_name", "field_name"],
        ["aaa", "bbb", "ccc"],
      ],
    ],
    ["4: spaces are part of a field", "aaa, bbb ,ccc\r\n", [["aaa", " bbb ", "ccc"]]],
    [
      "5: fields may be quoted or not",
      '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      "6: line breaks, quotation marks and commas are quoted",
      '"aaa","b\r\nbb","c,cc"\r\nzzz,yyy,xxx',
      [
        ["aaa", "b\r\nbb", "c,cc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    ["7: a quotation mark within quotes is doubled", '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]],
  ])("%s", (_, text, records) => {
    expect(fieldsOf(text)).toEqual(records);
  });
});

describe("what files bring beyond the RFC", () => {
  it("reads LF and CR alone as line breaks, mixed as they come", () => {
    expect(fieldsOf("a,b\nc,d\re,f\r\ng,h")).toEqual([
      ["a", "b"],
      ["c", "d"],
      ["e", "f"],
      ["g", "h"],
    ]);
  });

  it("skips a byte order mark and empty lines", () => {
    expect(fieldsOf("\ufeffa,b\r\n\r\nc,d\n\n")).toEqual([
      ["a", "b"],
      ["c", "d"],
    ]);
  });

  it("counts lines as an editor does, line breaks within quotes too", () => {
    const text = 'order,customer\r\n"W-1","The\r\nLamplit\nOtter"\r\n\r\nW-2,é\nW-3,x\n';
    expect(read(text).records.map((record) => record.line)).toEqual([1, 2, 6, 7]);
  });

  it("names the line of a quotation mark that is never closed, and keeps what came before", () => {
    const { records, brokenAt } = read('a,b\n1,2\n3,"4\n5,6\n');
    expect([records.length, brokenAt]).toEqual([2, 3]);
  });

  it.each([
    ["2 MB of commas", ",".repeat(2_000_000)],
    ["2 MB of line breaks", "\n".repeat(2_000_000)],
    ["2 MB behind an open quotation mark", `"${"y\n".repeat(1_000_000)}`],
    ["2 MB of quotation marks that stand wrong", 'x"y\n'.repeat(500_000)],
  ])("comes to an end with %s", (_, text) => {
    expect(read(`a\n${text}`).records.length).toBeLessThanOrEqual(100);
  });
});

/** Any table, written as the RFC says, with quotation marks where they are needed and here and there where not. */
describe("any table written by the rules", () => {
  const field = fc.string({
    unit: fc.constantFrom("a", "é", "🛁", " ", ",", '"', "\n", "\r\n", ";"),
    maxLength: 8,
  });
  const table = fc
    .integer({ min: 2, max: 5 })
    .chain((width) =>
      fc.array(fc.array(field, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
    );

  it("reads back the same, each record on its line", () => {
    fc.assert(
      fc.property(
        table,
        fc.constantFrom("\r\n", "\n"),
        fc.boolean(),
        fc.boolean(),
        (rows, lineBreak, quoteAll, mark) => {
          const written = rows.map((row) => row.map((one) => quoted(one, quoteAll)).join(","));
          const { records } = read(`${mark ? "\ufeff" : ""}${written.join(lineBreak)}`);
          expect(records.map((record) => record.fields)).toEqual(rows);
          expect(records.map((record) => record.line)).toEqual(
            written.map((_, row) => 1 + breaksIn(written.slice(0, row).join(lineBreak)) + (row > 0 ? 1 : 0)),
          );
        },
      ),
      { numRuns: 500 },
    );
  });
});

function quoted(field: string, always: boolean): string {
  return always || /[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field;
}

function breaksIn(text: string): number {
  return text.match(/\r\n|\n|\r/g)?.length ?? 0;
}

function read(text: string) {
  return readCsv(Buffer.from(text), { most: 100 });
}

function fieldsOf(text: string) {
  return read(text).records.map((record) => record.fields);
}
