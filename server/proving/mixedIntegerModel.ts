import type { Instance } from "../planning/search/instance.ts";
import { addBowlsByDay } from "./bowlsByDay.ts";
import { LinearModel } from "./linearModel.ts";
import { OrderSide } from "./orderSide.ts";
import { WorkshopSide } from "./workshopSide.ts";

/**
 * Coefficients beyond which a case is refused: the solver would need more than some hundred megabytes and, within the
 * time of a search, would not get past its first relaxation. A fortnight of 40 orders has thirty thousand.
 */
export const mostCoefficients = 400_000;

/**
 * The planning problem as a mixed-integer program whose least cost is never above the lateness of any allowed plan, in
 * unit-days: every plan is a solution of it. Whole numbers are runs, bowls and the day a complete order is ready; pieces,
 * units and trays may be fractions, which only widens it.
 *
 * It is made strong, not small: each line takes from each run by itself, at most its units times the share of the run
 * that is there (the facility-location form of lot sizing), a complete order has a run by the day it is ready, a session
 * holds only so many runs, and a blend's bowls so far hold what is served from them so far.
 *
 * Source: J. Krarup, O. Bilde, "Plant location, set covering and economic lot size", in: Numerische Methoden bei
 * Optimierungsaufgaben 3 (1977). From memory.
 *
 * @throws {TooManyCoefficients} where the case is larger than `mostCoefficients`.
 */
export function mixedIntegerModel(instance: Instance): LinearModel {
  const model = new LinearModel(mostCoefficients);
  const workshop = new WorkshopSide(instance, model);
  const orders = new OrderSide(instance, model, workshop);
  addBowlsByDay(instance, model, workshop, orders.fromRuns);
  return model;
}
