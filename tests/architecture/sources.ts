import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { projectRoot } from "../../server/basics/projectRoot.ts";

/** One import of a source file: what is imported, as a path from the project's root or a package's name. */
export interface Import {
  readonly target: string;
  readonly typeOnly: boolean;
}

export interface Source {
  /** From the project's root, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly imports: readonly Import[];
}

/** Every TypeScript file of the given folders. */
export function sourcesIn(...folders: readonly string[]): readonly Source[] {
  return folders.flatMap((folder) =>
    readdirSync(path.join(projectRoot, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => readSource(path.join(folder, name)))
      .sort((one, other) => (one.path < other.path ? -1 : 1)),
  );
}

function readSource(relative: string): Source {
  const text = readFileSync(path.join(projectRoot, relative), "utf8");
  const pattern = /^(?:import|export)\s+(type\s)?(?:[^"';]*?\sfrom\s+)?"([^"]+)"|\bimport\("([^"]+)"\)/gm;
  const imports = [...text.matchAll(pattern)].map((match) => {
    const named = match[2] ?? match[3] ?? "";
    const target = named.startsWith(".") ? path.posix.join(path.posix.dirname(relative), named) : named;
    return { target, typeOnly: match[1] !== undefined };
  });
  return { path: relative.split(path.sep).join("/"), text, imports };
}
