import type { Order, PlanCase } from "../planning/case.ts";
import { parseCase } from "../planning/parseCase.ts";
import { withSpares } from "./spares.ts";

/** The same question with other orders; null where the planner takes no such case, as with too many pieces. */
export function withOrders(planCase: PlanCase, orders: readonly Order[]): PlanCase | null {
  const parsed = parseCase(withSpares({ ...planCase, orders }));
  return parsed.ok ? parsed.value : null;
}
