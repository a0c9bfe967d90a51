import type { Transaction } from "../../db/connect.ts";
import { moves } from "../../db/schema/lots.ts";
import type { Actor } from "../http/visitor.ts";
import { type Losses, lossCauses } from "./lot.ts";

/** One move for each cause that took pieces. The lot is held by the caller, who knows that it has that many. */
export async function writeLosses(
  transaction: Transaction,
  actor: Actor,
  lotId: number,
  losses: Losses,
): Promise<void> {
  const rows = lossCauses
    .filter((cause) => losses[cause] > 0)
    .map((cause) => ({
      lotId,
      kind: "lost" as const,
      units: -losses[cause],
      cause,
      at: actor.at,
      personId: actor.personId,
    }));
  if (rows.length > 0) await transaction.insert(moves).values(rows);
}
