import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { letterhead } from "../../db/schema/letterhead.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { LetterheadForm } from "./forms.ts";

/** What stands on the shop's papers. */
export type Letterhead = LetterheadForm;

const BLANK: Letterhead = {
  ...{ name: "", address: "", taxNumber: "", bank: "", paymentWords: "", footer: "", paperSize: "A4" },
};

/** The heading as it was written; blank where nobody wrote one yet. */
export async function readLetterhead(db: Database | Transaction): Promise<Letterhead> {
  const [row] = await db.select().from(letterhead);
  if (!row) return BLANK;
  const { id: _id, ...written } = row;
  return written;
}

/** Whether it says nothing of who sends the paper: an invoice would not be one. */
export function isBlank({ address, taxNumber }: Letterhead): boolean {
  return address === "" && taxNumber === "";
}

/** The heading as papers show it: under the workshop's name where it has none of its own. */
export async function shownLetterhead(db: Database | Transaction): Promise<Letterhead> {
  const written = await readLetterhead(db);
  if (written.name !== "") return written;
  const [row] = await db.select({ name: workshop.name }).from(workshop);
  return { ...written, name: row?.name ?? "" };
}

/** Writes the heading of all papers from now on; invoices that are written keep theirs. */
export async function changeLetterhead(
  transaction: Transaction,
  actor: Actor,
  after: LetterheadForm,
): Promise<Result<null, never>> {
  const before = await readLetterhead(transaction);
  await transaction
    .insert(letterhead)
    .values(after)
    .onConflictDoUpdate({ target: letterhead.id, set: after });
  await recordChange(transaction, actor, {
    subject: "letterhead",
    subjectId: 1,
    what: "changed",
    before,
    after,
  });
  return ok(null);
}
