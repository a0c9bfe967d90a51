import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { idField } from "../http/formFields.ts";
import { findOrder, listLines } from "./oneOrder.ts";
import { listChoices } from "./queries.ts";

/** The form of a new order filled in from an older one. */
interface Copy {
  readonly answer: FormAnswer;
  readonly reference: string;
  /** Products that are no longer made. */
  readonly leftOut: readonly string[];
}

const copyQuery = z.object({ copy: idField() });

/**
 * Who, what and how of an order named in a link ("?copy=12"), for ordering the same again. Dates, numbers and prices are
 * the new order's own. Null where the link names none.
 */
export async function readCopy(db: Database, query: unknown): Promise<Copy | null> {
  const asked = copyQuery.safeParse(query);
  const order = asked.success ? await findOrder(db, asked.data.copy) : undefined;
  if (!order) return null;
  const { customers, products } = await listChoices(db);
  const isMade = new Set(products.map(({ id }) => id));
  const lines = await listLines(db, order.id);
  const made = lines.filter(({ productId }) => isMade.has(productId));
  return {
    answer: freshForm({
      customer: customers.some(({ id }) => id === order.customerId) ? String(order.customerId) : "",
      terms: order.terms,
      note: order.note,
      product: [...made.map(({ productId }) => String(productId)), ""],
      units: [...made.map(({ units }) => String(units)), ""],
    }),
    reference: order.reference,
    leftOut: lines.filter(({ productId }) => !isMade.has(productId)).map(({ product }) => product),
  };
}
