import { ok, type Result, refuse } from "../basics/result.ts";
import { type CaseMistake, caseLimits } from "./case.ts";
import { JsonReader } from "./jsonReader.ts";
import type { OrderOutcome, Plan, Run, Supply } from "./plan.ts";

/** Reads a plan from parsed JSON: its form only, whether it is allowed is for `checkPlan`. Finds every mistake of form. */
export function parsePlan(json: unknown): Result<Plan, readonly CaseMistake[]> {
  const mistakes: CaseMistake[] = [];
  const root = new JsonReader(json, "$", mistakes);
  if (!root.isObject()) return refuse(mistakes);
  const plan: Plan = {
    cost: root.field("cost").figure(),
    handMinutes: root.field("handMinutes").figure(),
    bound: root.field("bound").figure(),
    runs: root.field("runs").list(caseLimits.pieces, readRun),
    supplies: root.field("supplies").list(caseLimits.pieces, readSupply),
    orders: root.field("orders").list(caseLimits.orders, readOutcome),
  };
  return mistakes.length === 0 ? ok(plan) : refuse(mistakes);
}

function readRun(reader: JsonReader): Run {
  return {
    session: reader.field("session").count(0),
    blend: reader.field("blend").text(),
    bowls: reader.field("bowls").count(1),
    pieces: reader.field("pieces").list(caseLimits.products, (pieces) => ({
      product: pieces.field("product").text(),
      units: pieces.field("units").count(1),
    })),
  };
}

function readSupply(reader: JsonReader): Supply {
  const served = {
    order: reader.field("order").text(),
    product: reader.field("product").text(),
    units: reader.field("units").count(0),
  };
  switch (reader.field("from").oneOf(["stock", "run", "drying"])) {
    case "stock":
      return { ...served, from: "stock" };
    case "run":
      return { ...served, from: "run", session: reader.field("session").count(0) };
    case "drying":
      return { ...served, from: "drying", drying: reader.field("drying").count(0) };
  }
}

function readOutcome(reader: JsonReader): OrderOutcome {
  return {
    id: reader.field("id").text(),
    readyOn: reader.field("readyOn").isNull() ? null : reader.field("readyOn").date(),
    daysLate: reader.field("daysLate").count(0),
    unitsShort: reader.field("unitsShort").count(0),
  };
}
