import { expect, it } from "vitest";
import { useDatabase } from "./testDatabase.ts";

const database = useDatabase();

it("reads the moves of the lots that are asked for, and not the whole ledger", async () => {
  const plan = await database.sql`explain select lots.id, lot_balances.units
    from lots join lot_balances on lot_balances.lot_id = lots.id
    where lots.state in ('drying', 'resting') and lot_balances.units > 0`;
  const steps = plan.map((row) => String(row["QUERY PLAN"])).join("\n");
  expect(steps).toContain("SubPlan");
  expect(steps).toMatch(/moves_by_lot.*\(lot_id = /s);
});
