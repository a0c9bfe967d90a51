import { readFileSync } from "node:fs";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/**
 * Lets what takes longest begin first, so that at the end no worker waits for another: servers that are started as
 * processes, then what drives a browser, then what asks a database. Among its like a larger file goes first, as usual.
 */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const ranks = new Map(files.map((file) => [file, rank(file)]));
    const usual = await super.sort(files);
    return usual.sort((one, other) => (ranks.get(one) ?? 0) - (ranks.get(other) ?? 0));
  }
}

function rank({ project, moduleId }: TestSpecification): number {
  if (project.name === "processes") return 0;
  if (project.name === "alone") return 3;
  return readFileSync(moduleId, "utf8").includes("usePage(") ? 1 : 2;
}
