import type { FastifyReply, FastifyRequest } from "fastify";
import type { z } from "zod";
import type { Database, Transaction } from "../../db/connect.ts";
import { type FormAnswer, withMistake } from "../../views/components/formAnswer.ts";
import type { Clock } from "../basics/clock.ts";
import type { Result } from "../basics/result.ts";
import { actOnce } from "./actOnce.ts";
import { asTyped } from "./formFields.ts";
import { readForm } from "./readForm.ts";
import { type Actor, actorOf } from "./visitor.ts";

/** Where a refusal is answered: beside a field, or about the whole form where the field is "". */
export interface Mistake {
  readonly field: string;
  readonly sentence: string;
  /** 422 where left out; 409 when the state has moved on. */
  readonly status?: number;
}

interface FormTaking<Schema extends z.ZodType, Value, Refusal> {
  readonly schema: Schema;
  readonly command: (
    transaction: Transaction,
    actor: Actor,
    input: z.output<Schema>,
  ) => Promise<Result<Value, Refusal>>;
  readonly whereTo: (value: Value) => string;
  /** The sentence for a refusal; it may throw `notFound` instead. */
  readonly mistakeFor: (refusal: Refusal) => Mistake;
  /** The page again, with what was typed and what is wrong with it. */
  readonly showAgain: (answer: FormAnswer, status: number) => FastifyReply | Promise<FastifyReply>;
}

/**
 * The way of every form: parsed once; carried out once in one transaction; then the browser is led on, or sees its
 * form again with each mistake beside its field.
 */
export async function takeForm<Schema extends z.ZodType, Value, Refusal>(
  { db, clock }: { readonly db: Database; readonly clock: Clock },
  request: FastifyRequest,
  reply: FastifyReply,
  taking: FormTaking<Schema, Value, Refusal>,
): Promise<FastifyReply> {
  const form = readForm(taking.schema, request.body);
  if (!form.ok) return taking.showAgain(form.refusal, 422);
  const at = clock.now();
  const taken = await actOnce(
    db,
    request,
    at,
    (transaction) => taking.command(transaction, actorOf(request, at), form.value),
    taking.whereTo,
  );
  if (taken.ok) return reply.redirect(taken.value, 303);
  const { field, sentence, status = 422 } = taking.mistakeFor(taken.refusal);
  return taking.showAgain(
    withMistake({ typed: asTyped(request.body), mistakes: {} }, field, sentence),
    status,
  );
}
