import type { Database, Transaction } from "../../db/connect.ts";
import { type CheckedFile, checkOrderFile } from "./checkOrderFile.ts";
import { type KnownForFile, loadKnownForFile } from "./knownForFile.ts";
import { readOrderTable } from "./orderTable.ts";

/** Reads a file and holds it against the rows as they are now; changes nothing. */
export async function examineOrderFile(
  db: Database | Transaction,
  at: Date,
  file: Buffer,
): Promise<{ readonly checked: CheckedFile; readonly known: KnownForFile }> {
  const table = readOrderTable(file);
  const references = table.rows.map((row) => row.cells.order).filter((reference) => reference !== "");
  const known = await loadKnownForFile(db, at, [...new Set(references)]);
  return { checked: checkOrderFile(table, known), known };
}
