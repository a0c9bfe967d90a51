import { type SQL, sql } from "drizzle-orm";
import { supplyMoves } from "../../db/schema/supplyLots.ts";

/** Whether a run took more of a supply than the ledger had, as part of a statement. */
export function tookBeyond(runId: SQL): SQL<boolean> {
  return sql`exists (select from ${supplyMoves} m where m.run_id = ${runId}
    and m.lot_id is null and m.kind in ('used', 'unused') group by m.supply_id having sum(m.amount) < 0)`;
}
