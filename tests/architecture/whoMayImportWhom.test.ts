import { describe, expect, it } from "vitest";
import { type Import, type Source, sourcesIn } from "./sources.ts";

/** A rule of the house: these files may import only that, for this reason. */
interface Rule {
  readonly reason: string;
  readonly files: (source: Source) => boolean;
  readonly allows: (imported: Import, source: Source) => boolean;
}

const inFolder = (folder: string) => (source: Source) => source.path.startsWith(folder);
const ours = ({ target }: Import) => /^(server|views|db|tests)\//.test(target);
const from = (imported: Import, ...folders: readonly string[]) =>
  folders.some((folder) => imported.target.startsWith(folder));

const rules: readonly Rule[] = [
  {
    reason: "the basics stand under everything and on nothing",
    files: inFolder("server/basics/"),
    allows: (imported) => from(imported, "server/basics/", "node:"),
  },
  {
    reason: "the engine is pure: it knows neither web nor database nor the machine it runs on",
    files: inFolder("server/planning/"),
    allows: (imported) => from(imported, "server/planning/", "server/basics/"),
  },
  {
    reason: "money is reckoned by pure rules, so that every page and file comes to the same cent",
    files: inFolder("server/money/"),
    allows: (imported) => from(imported, "server/money/", "server/basics/"),
  },
  {
    reason: "the timetable is reckoned by pure rules, so that bench, paper and calendar show the same minute",
    files: inFolder("server/timetable/"),
    allows: (imported) => from(imported, "server/timetable/", "server/basics/"),
  },
  {
    reason:
      "what is billed, credited, due and overdue follows pure rules, so that page, paper and file agree",
    files: (source) =>
      /^server\/papers\/(ageing|creditContent|dueDates|invoiceContent|shareOfUnits)\.ts$/.test(source.path),
    allows: (imported) =>
      from(imported, "server/papers/", "server/money/", "server/basics/", "views/format/dates.ts"),
  },
  {
    reason: "weights are reckoned by pure rules, so that page, paper and shopping list come to the same gram",
    files: (source) =>
      /^server\/recipes\/(amounts|cautions|drying|perKilogram|phases|scale|scentLimits)\.ts$/.test(
        source.path,
      ),
    allows: (imported) => from(imported, "server/recipes/", "server/money/", "server/basics/"),
  },
  {
    reason: "what a piece costs is reckoned by pure rules, and rounded once",
    files: (source) => /^server\/costs\/(fractions|pieceCost|unitCost)\.ts$/.test(source.path),
    allows: (imported) => from(imported, "server/costs/", "server/money/", "server/basics/"),
  },
  {
    reason:
      "what is needed, what is taken first and what to buy follow pure rules, so that ledger and list agree",
    files: (source) => /^server\/supplies\/(amounts|explosion|fefo|kinds|netting)\.ts$/.test(source.path),
    allows: (imported) =>
      from(imported, "server/basics/", "server/money/") ||
      /^server\/(recipes\/(amounts|cautions|scale)|supplies\/(amounts|explosion|fefo|kinds|netting))\.ts$/.test(
        imported.target,
      ),
  },
  {
    reason:
      "what a label may say and where its words stand follow pure rules, held against the laws' own numbers",
    files: (source) =>
      /^server\/labels\/(durability|gs1|ingredientOrder|labelContent|layout|listedAllergens|markets|netWeight|sheet|sheetOffers|typeHeight)\.ts$/.test(
        source.path,
      ),
    allows: (imported) =>
      from(imported, "luxon") ||
      /^server\/(recipes\/(cautions|drying)|labels\/(durability|gs1|ingredientOrder|layout|listedAllergens|markets|netWeight|sheet|typeHeight))\.ts$/.test(
        imported.target,
      ),
  },
  {
    reason: "the prover knows the engine and the solver, and nothing of the workshop it proves for",
    files: inFolder("server/proving/"),
    allows: (imported) =>
      from(imported, "server/proving/", "server/planning/", "server/basics/", "highs", "piscina", "node:"),
  },
  {
    reason: "the solver's memory is given back with the prover's thread, so nobody else loads it",
    files: (source) => !/^(server\/proving|tests)\//.test(source.path),
    allows: (imported) =>
      !from(imported, "highs", "server/proving/proveBound", "server/proving/proverThread"),
  },
  {
    reason: "what batches teach is reckoned by pure rules, so that it can be held against published tables",
    files: (source) =>
      /^server\/learning\/(dryingRatio|expectedLosses|lossRate|meanOf|pressing|studentT|vapour|weights|wilson)\.ts$/.test(
        source.path,
      ),
    allows: (imported) => from(imported, "server/learning/"),
  },
  {
    reason: "only the bridge, the prover and the command line call the engine; others may know its shapes",
    files: (source) => !/^(server\/(planning|plans|proving|cli)|tests)\//.test(source.path),
    allows: (imported) => imported.typeOnly || !from(imported, "server/planning/"),
  },
  {
    reason: "routes turn forms into commands and queries into views; tables are behind those",
    files: (source) => /^server\/.*[rR]outes\.ts$/.test(source.path),
    allows: (imported) => !from(imported, "db/schema/", "drizzle-orm"),
  },
  {
    reason: "the database knows no feature",
    files: inFolder("db/"),
    allows: (imported) => !ours(imported) || imported.typeOnly || from(imported, "db/", "server/basics/"),
  },
  {
    reason: "views only show: no queries, no requests, no rules but how many decimals a currency has",
    files: inFolder("views/"),
    allows: (imported) =>
      imported.typeOnly || from(imported, "views/", "server/basics/", "server/money/", "preact", "d3-"),
  },
  {
    reason: "commands and queries never see a request; the one who acts is given to them",
    files: (source) =>
      /^server\/(batches|bench|calendar|costs|customers|delivery|labels|learning|markets|orders|packing|papers|plans|prices|products|recipes|rollup|round|shelf|standing|stockist|supplies|trace|week|workshop)\//.test(
        source.path,
      ) && !/[rR]outes\.ts$/.test(source.path),
    allows: (imported) =>
      imported.typeOnly ||
      !from(imported, "fastify", "server/http/") ||
      /(form|money|pieces)Fields/.test(imported.target),
  },
  {
    reason: "nothing that ships leans on tests",
    files: (source) => !source.path.startsWith("tests/"),
    allows: (imported) => !from(imported, "tests/"),
  },
];

const sources = sourcesIn("server", "views", "db", "tests");

describe("who may import whom", () => {
  for (const rule of rules) {
    it(rule.reason, () => {
      const governed = sources.filter(rule.files);
      expect(governed.length, "the rule governs some files").toBeGreaterThan(0);
      const breaches = governed.flatMap((source) =>
        source.imports
          .filter((imported) => !rule.allows(imported, source))
          .map((imported) => `${source.path} imports ${imported.target}`),
      );
      expect(breaches).toEqual([]);
    });
  }

  it("every import of ours leads to a file that is there", () => {
    const known = new Set(sources.map((source) => source.path));
    const lost = sources.flatMap((source) =>
      source.imports
        .filter(
          (imported) => ours(imported) && /\.tsx?$/.test(imported.target) && !known.has(imported.target),
        )
        .map((imported) => `${source.path} imports ${imported.target}`),
    );
    expect(lost).toEqual([]);
  });
});
