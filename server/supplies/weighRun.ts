import type { Transaction } from "../../db/connect.ts";
import type { Actor } from "../http/visitor.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { giveBack } from "./giveBack.ts";
import { mixOfRun, needsOfMix } from "./runNeeds.ts";
import { useUp } from "./useUp.ts";

interface WeighedRun {
  readonly runId: number;
  /** The version it is mixed by; null: its blend has none, and nobody knows what goes into it. */
  readonly recipeId: number | null;
  /** Lots the maker has in hand and wants to be taken first. */
  readonly chosenLots?: readonly number[];
}

/** A run is weighed out from now on: takes what its planned pieces need from the lots. The run is held by the caller. */
export async function weighOutRun(
  transaction: Transaction,
  actor: Actor,
  { runId, recipeId, chosenLots = [] }: WeighedRun,
): Promise<void> {
  if (recipeId === null) return;
  const needs = await needsOfMix(transaction, recipeId, await mixOfRun(transaction, runId));
  const day = await workshopDay(transaction, actor.at);
  await useUp(transaction, actor, { needs, usedFor: { runId }, day, chosenLots });
}

/** A run was started by mistake: all that was taken for it is given back. The run is held by the caller. */
export async function unweighRun(
  transaction: Transaction,
  actor: Actor,
  { runId }: { readonly runId: number },
): Promise<void> {
  await giveBack(transaction, actor, { runId }, "all");
}
