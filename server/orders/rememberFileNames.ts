import { and, eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { fileMeanings } from "../../db/schema/fileMeanings.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { addCustomer } from "../customers/addCustomer.ts";
import { customerForm } from "../customers/forms.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { addProduct } from "../products/addProduct.ts";
import { examineOrderFile, type OrderFile } from "./examineOrderFile.ts";
import { type FileAnswer, readAnswer } from "./fileAnswers.ts";
import { type FileMeaning, type UnknownName, unknownNames } from "./fileNames.ts";
import type { KnownForFile } from "./knownForFile.ts";
import { holdReferences } from "./references.ts";

/** Why the answer about a name, told by its `meaningKey`, cannot be taken. */
export interface AnswerRefusal {
  readonly key: string;
  readonly why: "unanswered" | "gone" | "name-taken" | "name-unfit";
}

/**
 * Writes down what the unknown names of a file mean, for this file and the next ones, and adds what is new: all of it,
 * or nothing when one answer cannot be taken. No order is taken yet.
 *
 * @param answers as they were typed, by `meaningKey`.
 */
export async function rememberFileNames(
  transaction: Transaction,
  actor: Actor,
  { file, answers }: { readonly file: OrderFile; readonly answers: ReadonlyMap<string, string> },
): Promise<Result<null, readonly AnswerRefusal[]>> {
  // Two people who answer at once: the second finds what the first wrote.
  await holdReferences(transaction);
  const { checked, known } = await examineOrderFile(transaction, actor.at, file);
  const refusals: AnswerRefusal[] = [];
  for (const name of unknownNames(checked.mistakes) ?? []) {
    const answer = readAnswer(answers.get(name.key) ?? "");
    const meaning = answer ? await meaningOf(transaction, actor, { name, answer, known }) : "unanswered";
    if (typeof meaning === "object") await writeMeaning(transaction, actor, name, meaning.means);
    else if (meaning !== "known-by-name") refusals.push({ key: name.key, why: meaning });
  }
  return refusals.length > 0 ? refuse(refusals) : ok(null);
}

interface Answered {
  readonly name: UnknownName;
  readonly answer: FileAnswer;
  readonly known: KnownForFile;
}

/** What the answer comes to, once what is new has been added; who was added under the name itself needs no memory. */
async function meaningOf(
  transaction: Transaction,
  actor: Actor,
  { name, answer, known }: Answered,
): Promise<{ readonly means: FileMeaning } | "known-by-name" | AnswerRefusal["why"]> {
  switch (answer.is) {
    case "leave-out":
      return { means: answer.is };
    case "same": {
      const things = name.what === "customer" ? known.customers : known.products;
      const there = things.some(({ id, retired }) => id === answer.id && !retired);
      return there ? { means: { id: answer.id } } : "gone";
    }
    case "new-customer":
      return name.what === "customer" ? addNamedCustomer(transaction, actor, name, answer.kind) : "gone";
    case "new-product": {
      if (name.what !== "product") return "gone";
      const added = await addProduct(transaction, actor, {
        blendId: answer.blendId,
        shapeId: answer.shapeId,
      });
      return added.ok ? { means: { id: added.value.productId } } : "gone";
    }
  }
}

/** With what is needed and no more; the rest is filled in under Setup. */
async function addNamedCustomer(
  transaction: Transaction,
  actor: Actor,
  { written }: UnknownName,
  kind: "shop" | "market",
): Promise<"known-by-name" | "name-taken" | "name-unfit"> {
  const form = customerForm(await holdCurrency(transaction));
  const facts = form.safeParse({ name: written, kind, priorityWeight: "1" });
  if (!facts.success) return "name-unfit";
  const added = await addCustomer(transaction, actor, facts.data);
  return added.ok ? "known-by-name" : "name-taken";
}

async function writeMeaning(
  transaction: Transaction,
  actor: Actor,
  { what, written }: UnknownName,
  means: FileMeaning,
): Promise<void> {
  const earlier = and(eq(fileMeanings.what, what), sql`lower(${fileMeanings.writtenAs}) = lower(${written})`);
  await transaction.delete(fileMeanings).where(earlier);
  const id = means === "leave-out" ? null : means.id;
  const meaning = {
    what,
    writtenAs: written,
    meaning: id === null ? ("leave-out" as const) : ("match" as const),
    customerId: what === "customer" ? id : null,
    productId: what === "product" ? id : null,
  };
  const [row] = await transaction
    .insert(fileMeanings)
    .values({ ...meaning, decidedAt: actor.at, decidedBy: actor.personId })
    .returning({ id: fileMeanings.id });
  if (!row) throw new Error("The row of a name's meaning did not come back");
  await recordChange(transaction, actor, {
    subject: "file name",
    subjectId: row.id,
    what: "remembered",
    after: meaning,
  });
}
