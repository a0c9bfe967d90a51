import { isDeepStrictEqual } from "node:util";
import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { labelSheets } from "../../db/schema/labels.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { SheetFacts } from "./forms.ts";

export type SheetRefusal = "not-found" | "name-taken";

export async function addSheet(
  transaction: Transaction,
  actor: Actor,
  facts: SheetFacts,
): Promise<Result<{ readonly sheetId: number }, SheetRefusal>> {
  if (await nameTaken(transaction, facts.name)) return refuse("name-taken");
  const [row] = await transaction.insert(labelSheets).values(facts).returning({ id: labelSheets.id });
  if (!row) throw new Error("The new sheet's row did not come back");
  await recordChange(transaction, actor, {
    subject: "label sheet",
    subjectId: row.id,
    what: "added",
    after: facts,
  });
  return ok({ sheetId: row.id });
}

export async function changeSheet(
  transaction: Transaction,
  actor: Actor,
  { sheetId, ...facts }: SheetFacts & { readonly sheetId: number },
): Promise<Result<{ readonly sheetId: number }, SheetRefusal>> {
  const taken = await nameTaken(transaction, facts.name, sheetId);
  const [row] = await transaction.select().from(labelSheets).where(eq(labelSheets.id, sheetId)).for("update");
  if (!row) return refuse("not-found");
  if (taken) return refuse("name-taken");
  if (isDeepStrictEqual(row, { ...row, ...facts })) return ok({ sheetId });
  await transaction.update(labelSheets).set(facts).where(eq(labelSheets.id, sheetId));
  await recordChange(transaction, actor, {
    subject: "label sheet",
    subjectId: sheetId,
    what: "changed",
    before: row,
    after: facts,
  });
  return ok({ sheetId });
}

/** It is offered for printing no more. */
export async function retireSheet(
  transaction: Transaction,
  actor: Actor,
  { sheetId }: { readonly sheetId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, labelSheets, {
    subject: "label sheet",
    id: sheetId,
    retired: true,
  });
}

export async function bringBackSheet(
  transaction: Transaction,
  actor: Actor,
  { sheetId }: { readonly sheetId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, labelSheets, {
    subject: "label sheet",
    id: sheetId,
    retired: false,
  });
}

/** Holds the table until the transaction ends, so that no other name comes in between. */
async function nameTaken(transaction: Transaction, name: string, sheetId = 0): Promise<boolean> {
  await transaction.execute(sql`lock table ${labelSheets} in share row exclusive mode`);
  const same = and(ne(labelSheets.id, sheetId), sql`lower(${labelSheets.name}) = lower(${name})`);
  return (await transaction.$count(labelSheets, same)) > 0;
}
