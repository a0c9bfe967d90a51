import { asc } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots } from "../../db/schema/lots.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import type { Actor } from "../http/visitor.ts";
import type { Run } from "../planning/plan.ts";
import { newLotCode } from "../shelf/lotCode.ts";
import { type KeptPlan, sessionAt } from "./keptPlan.ts";

/** Writes a run and its lots for each run of the plan; returns the codes of the lots. */
export async function writeRuns(
  transaction: Transaction,
  actor: Actor,
  planId: number,
  kept: KeptPlan,
): Promise<readonly string[]> {
  const blendIds = await idsByCode(transaction, blends);
  const productIds = await idsByCode(transaction, products);
  const codes: string[] = [];
  for (const run of kept.plan.runs) {
    const runId = await writeRun(transaction, planId, kept, run, known(blendIds, run.blend));
    for (const { product, units } of run.pieces) {
      const trays = Math.ceil(units / unitsPerTray(kept, product));
      const lot = { productId: known(productIds, product), runId, plannedUnits: units, trays };
      codes.push(await writeLot(transaction, actor, lot));
    }
  }
  return codes;
}

async function writeRun(
  transaction: Transaction,
  planId: number,
  kept: KeptPlan,
  run: Run,
  blendId: number,
): Promise<number> {
  const session = kept.planCase.sessions[run.session];
  if (session === undefined) throw new Error(`A kept plan has no session ${run.session}`);
  const { startsAt, endsAt } = sessionAt(kept, run.session);
  const [row] = await transaction
    .insert(runs)
    .values({
      planId,
      blendId,
      sessionDate: session.date,
      sessionStartsAt: startsAt,
      sessionEndsAt: endsAt,
      bowls: run.bowls,
      dryingFactor: session.dryingFactor,
      state: "planned",
    })
    .returning({ id: runs.id });
  if (!row) throw new Error("The new run's row did not come back");
  return row.id;
}

async function writeLot(
  transaction: Transaction,
  actor: Actor,
  lot: Pick<typeof lots.$inferInsert, "productId" | "runId" | "plannedUnits" | "trays">,
): Promise<string> {
  const code = await newLotCode(transaction);
  const [row] = await transaction
    .insert(lots)
    .values({ ...lot, code, state: "planned", createdAt: actor.at })
    .returning({ id: lots.id });
  if (!row) throw new Error("The new lot's row did not come back");
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: row.id,
    what: "planned",
    after: { state: "planned", code, ...lot },
  });
  return code;
}

async function idsByCode(
  transaction: Transaction,
  table: typeof blends | typeof products,
): Promise<ReadonlyMap<string, number>> {
  const rows = await transaction
    .select({ id: table.id, code: table.code })
    .from(table)
    .orderBy(asc(table.id));
  return new Map(rows.map(({ id, code }) => [code, id]));
}

function known(ids: ReadonlyMap<string, number>, code: string): number {
  const id = ids.get(code);
  if (id === undefined) throw new Error(`A kept plan names ${code}, which is no longer there`);
  return id;
}

function unitsPerTray({ planCase }: KeptPlan, product: string): number {
  const shape = planCase.products.find(({ id }) => id === product)?.shape;
  return planCase.shapes.find(({ id }) => id === shape)?.unitsPerTray ?? 1;
}
