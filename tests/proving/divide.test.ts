import { describe, expect, test } from "vitest";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { divide } from "../../server/proving/divide.ts";
import type { LinearModel } from "../../server/proving/linearModel.ts";
import { mixedIntegerModel } from "../../server/proving/mixedIntegerModel.ts";
import { type Part, wholePart } from "../../server/proving/part.ts";
import { loading, solverInput } from "../../server/proving/solver.ts";
import { caseFromJson, jsonOfFile } from "../planning/caseFiles.ts";
import type { JsonCase } from "../planning/independentChecker.ts";

const highs = await loading;

const modelOf = (json: JsonCase) => mixedIntegerModel(new Instance(caseFromJson(json)));

/** Parts, the bounds that were told, and how often it was asked whether all is over; until `questions` have been asked. */
function divided(model: LinearModel, questions = Number.POSITIVE_INFINITY) {
  const told: number[] = [];
  let asked = 0;
  const isOver = () => {
    asked += 1;
    return asked > questions;
  };
  const parts = divide(highs, model, isOver, (bound) => told.push(bound));
  return { parts, told, asked };
}

/** What a part's plans cost at least, and the columns of the cheapest; by costs other than the model's where some are given. */
function cheapestIn(model: LinearModel, part: Part, whole: "none" | "some", colCost = model.cost) {
  const input = solverInput(model, part, whole, highs.infinity);
  return highs.withModel({ ...input, colCost }, (solver) => {
    solver.options.set({ output_flag: false, mip_rel_gap: 10 });
    const { modelStatus } = solver.run();
    if (modelStatus === highs.constants.modelStatus.infeasible) return null;
    const cost = Number(solver.info.get("objective_function_value"));
    return { cost, columns: Float64Array.from(solver.getSolution().colValue) };
  });
}

/** Solutions at both sides of every limit between parts, cheap by costs drawn by chance. */
function solutionsAtLimits(model: LinearModel, parts: readonly Part[]): Float64Array[] {
  const random = new Random(1);
  const limits = parts.flatMap(({ least, most }) => [...least, ...most]);
  const places = new Set(
    limits.flatMap(([column, at]) => [at - 1, at, at + 1].map((value) => `${column} ${value}`)),
  );
  return [...places].flatMap((place) => {
    const [column = 0, value = 0] = place.split(" ").map(Number);
    if (value < 0 || value > (model.most[column] ?? 0)) return [];
    const at = { least: new Map([[column, value]]), most: new Map([[column, value]]), bound: 0 };
    const costs = model.cost.map((cost) => cost * random.fraction());
    const found = cheapestIn(model, at, "some", costs);
    return found === null ? [] : [found.columns];
  });
}

function isIn({ least, most }: Part, columns: Float64Array): boolean {
  const at = (column: number) => columns[column] ?? Number.NaN;
  return (
    [...least].every(([column, limit]) => at(column) >= limit - 1e-6) &&
    [...most].every(([column, limit]) => at(column) <= limit + 1e-6)
  );
}

const costOf = (model: LinearModel, columns: Float64Array) =>
  columns.reduce((sum, amount, column) => sum + amount * (model.cost[column] ?? 0), model.offset);

describe("dividing plans", () => {
  test.each(["damp-5", "hands-bound-0"])(
    "leaves every solution of %s in exactly one part, and none below its bound, however early it is ended",
    (name) => {
      const model = modelOf(jsonOfFile(`${name}.json`));
      const { parts: all, asked } = divided(model);
      const early = divided(model, asked / 2).parts;
      expect(early.length).toBeGreaterThan(1);
      expect(all.length).toBeGreaterThan(early.length);
      const solutions = solutionsAtLimits(model, all);
      expect(solutions.length).toBeGreaterThan(all.length);
      for (const parts of [all, early, divided(model, 1).parts]) {
        for (const columns of solutions) {
          const bounds = parts.filter((part) => isIn(part, columns)).map(({ bound }) => bound);
          expect(bounds).toHaveLength(1);
          expect(costOf(model, columns)).toBeGreaterThanOrEqual(Math.max(...bounds) - 1e-4);
        }
      }
    },
  );

  test.each(["damp-4", "damp-5", "hands-bound-0", "week-5"])(
    "knows of each part of %s what its plans cost at least when nothing has to be whole",
    (name) => {
      const model = modelOf(jsonOfFile(`${name}.json`));
      for (const part of divided(model).parts) {
        expect(part.bound).toBeCloseTo(cheapestIn(model, part, "none")?.cost ?? Number.NaN, 3);
      }
    },
  );

  test("raises what is proven of an overloaded week by a fifth before any cut", () => {
    const { parts, told } = divided(modelOf(jsonOfFile("week-2.json")));
    expect(parts.length).toBeGreaterThan(2);
    expect(told).toEqual([...told].sort((one, other) => one - other));
    expect(Math.max(...told)).toBeCloseTo(Math.min(...parts.map(({ bound }) => bound)), 6);
    expect(Math.max(...told) / Math.min(...told)).toBeGreaterThan(1.2);
  });

  test("is given up where it raises next to nothing, and where a case is larger than a week", () => {
    expect(divided(modelOf(jsonOfFile("mold-bound-0.json"))).parts).toHaveLength(1);
    const large = divided(modelOf(jsonOfFile("fortnight-1.json")));
    expect(large).toEqual({ parts: [wholePart(Number.NEGATIVE_INFINITY)], told: [], asked: 0 });
  });
});
