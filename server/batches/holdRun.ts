import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { runs } from "../../db/schema/plans.ts";
import { ok, type Result, refuse } from "../basics/result.ts";

/** Why something is not written on a batch sheet. */
export type BatchRefusal =
  | { readonly kind: "no-such-run" }
  /** Before its start nobody knows by which recipe it will be mixed. */
  | { readonly kind: "not-begun" }
  | { readonly kind: "no-such-part" }
  /** Somebody has written on it since the page was made. */
  | { readonly kind: "written-meanwhile" };

/** Holds a run that was begun: its sheet may be written on, also after it is formed. */
export async function holdRun(
  transaction: Transaction,
  runId: number,
): Promise<Result<typeof runs.$inferSelect, BatchRefusal>> {
  const [run] = await transaction.select().from(runs).where(eq(runs.id, runId)).for("update");
  if (!run) return refuse({ kind: "no-such-run" });
  return run.startedAt === null ? refuse({ kind: "not-begun" }) : ok(run);
}

export function batchRefusalWords({ kind }: BatchRefusal): string {
  switch (kind) {
    case "no-such-run":
      return "There is no such run.";
    case "not-begun":
      return "This run is not begun: its sheet can be printed, and written on from its start.";
    case "no-such-part":
      return "The recipe of this run has no such part, or the run no such bowl. Nothing was changed.";
    case "written-meanwhile":
      return "Somebody wrote on this sheet meanwhile. Below is what stands there now beside what you typed; look and send again.";
  }
}
