import { CsvError, parse } from "csv-parse/sync";

/** One record of a file: its fields as they were meant, and the line it begins on, from 1. */
export interface CsvRecord {
  readonly line: number;
  readonly fields: readonly string[];
}

export type CsvSeparator = "," | ";" | "\t";

interface CsvFile {
  readonly records: readonly CsvRecord[];
  /** The line of a quotation mark that never ends, or of a field that is far too long; nothing after it was read. */
  readonly brokenAt: number | null;
}

/** Characters of one record's fields, all together: a quotation mark left open is found early, not after the last line. */
const MOST_RECORD_CHARACTERS = 10_000;

/**
 * Reads separated text as RFC 4180 describes it for commas: CRLF between records (LF or CR alone is taken too), quoted
 * fields with separators, line breaks and doubled quotation marks in them. Beyond the RFC: a byte order mark is skipped,
 * empty lines are skipped, records may differ in length, and a quotation mark inside an unquoted field stands for itself.
 *
 * @param bytes UTF-8, already known to be valid.
 * @param most reads at most this many records.
 */
export function readCsv(
  bytes: Buffer,
  { most, separator = "," }: { readonly most: number; readonly separator?: CsvSeparator },
): CsvFile {
  const text = hasByteOrderMark(bytes) ? bytes.subarray(BYTE_ORDER_MARK.length) : bytes;
  const lines = new LineCounter(text);
  const records: CsvRecord[] = [];
  let end = 0;
  try {
    parse(text, {
      delimiter: separator,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      record_delimiter: ["\r\n", "\n", "\r"],
      max_record_size: MOST_RECORD_CHARACTERS,
      to: most,
      on_record: (fields: string[], context) => {
        records.push({ line: lines.firstFilledAfter(end), fields });
        end = context.bytes;
        return null;
      },
    });
    return { records, brokenAt: null };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { records, brokenAt: lines.firstFilledAfter(end) };
  }
}

const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);
const LF = 0x0a;
const CR = 0x0d;

function hasByteOrderMark(bytes: Buffer): boolean {
  return bytes.subarray(0, BYTE_ORDER_MARK.length).equals(BYTE_ORDER_MARK);
}

/** Turns ends of records into lines. Asked with growing places only, so that it walks over the text once. */
class LineCounter {
  readonly #text: Buffer;
  #place = 0;
  #line = 1;

  constructor(text: Buffer) {
    this.#text = text;
  }

  /** The line on which the next character that is no line break stands. */
  firstFilledAfter(place: number): number {
    while (this.#place < this.#text.length) {
      const byte = this.#text[this.#place];
      const breaks = byte === LF || byte === CR;
      if (this.#place >= place && !breaks) break;
      const firstOfTwo = byte === CR && this.#text[this.#place + 1] === LF;
      if (breaks && !firstOfTwo) this.#line += 1;
      this.#place += 1;
    }
    return this.#line;
  }
}
