import type { LightMyRequestResponse } from "fastify";
import { firstOwner, signedIn, type TestApplication } from "../build/application.ts";
import { insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

/** The owner, signed in, in a workshop that is open and has nothing in it yet. */
export async function ownerInSetup(application: TestApplication): Promise<Visitor> {
  const owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
  return owner;
}

/** A helper, signed in. */
export async function helperOf(application: TestApplication, owner: Visitor): Promise<Visitor> {
  const helper = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
  await owner.post("/setup/people", helper);
  return signedIn(application, helper);
}

/** What was written down of one kind of thing, oldest first. */
export async function changesOf(application: TestApplication, subject: string) {
  return await application.database.sql<
    { what: string; before: Record<string, unknown> | null; after: Record<string, unknown> | null }[]
  >`select what, before, after from changes where subject = ${subject} order by id`;
}

/** The sentence that stands beside a field of an answered form, as HTML; undefined where there is none. */
export function mistakeBeside(answer: LightMyRequestResponse, field: string): string | undefined {
  return new RegExp(`id="${field}-mistake">([^<]+)<`).exec(answer.body)?.[1];
}

/** Status and place of an answer, for forms that were taken. */
export function ledTo(answer: LightMyRequestResponse) {
  return [answer.statusCode, answer.headers.location];
}
