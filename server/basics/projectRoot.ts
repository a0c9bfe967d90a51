import { existsSync } from "node:fs";
import path from "node:path";

/**
 * The folder of the nearest package.json upward from this file: the same one whether the sources run as they are
 * (`server/`) or compiled (`dist/server/`).
 */
export const projectRoot: string = nearestPackage(import.meta.dirname);

function nearestPackage(folder: string): string {
  if (existsSync(path.join(folder, "package.json"))) return folder;
  const parent = path.dirname(folder);
  if (parent === folder) throw new Error(`No package.json above ${import.meta.dirname}`);
  return nearestPackage(parent);
}
