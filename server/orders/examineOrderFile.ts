import type { Database, Transaction } from "../../db/connect.ts";
import { type CheckedFile, checkOrderFile } from "./checkOrderFile.ts";
import type { DateHabit } from "./fileDates.ts";
import { type Tell, tellNobody } from "./filesInWork.ts";
import { type KnownForFile, loadKnownForFile } from "./knownForFile.ts";
import { readOrderTable } from "./orderTable.ts";

/** A file as it was sent or pasted, and how it writes dates. */
export interface OrderFile {
  readonly name: string;
  readonly bytes: Buffer;
  readonly dates: DateHabit;
}

/** Reads a file and holds it against the rows as they are now; changes nothing. */
export async function examineOrderFile(
  db: Database | Transaction,
  at: Date,
  { bytes, dates }: Pick<OrderFile, "bytes" | "dates">,
  tell: Tell = tellNobody,
): Promise<{ readonly checked: CheckedFile; readonly known: KnownForFile }> {
  const table = readOrderTable(bytes);
  const references = table.rows.map((row) => row.cells.order).filter((reference) => reference !== "");
  const known = await loadKnownForFile(db, at, [...new Set(references)]);
  return { checked: await checkOrderFile(table, known, dates, tell), known };
}
