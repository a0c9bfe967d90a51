import type { Database } from "../../db/connect.ts";
import { readBox } from "../packing/box.ts";
import { type Stop, stopsOf } from "./stops.ts";

/** Pieces in an order, in its box or gone, of a lot that is stopped. */
export interface StoppedPieces {
  readonly lotId: number;
  readonly code: string;
  /** In its box, or gone with it. */
  readonly units: number;
  readonly stop: Stop;
}

/** What of an order is on hold or recalled, whether it is still here or has left. */
export async function stoppedInOrder(db: Database, orderId: number): Promise<readonly StoppedPieces[]> {
  const box = await readBox(db, orderId);
  const stops = await stopsOf(
    db,
    box.map(({ lotId }) => lotId),
  );
  return box.flatMap(({ lotId, lotCode: code, packed: units }) =>
    (stops.get(lotId) ?? []).map((stop) => ({ lotId, code, units, stop })),
  );
}
