import { createRequire } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";

/**
 * Where the code of a thread is that lies beside a file, compiled where that file is compiled.
 *
 * @param file as its own `import.meta.filename` says.
 * @param name of the thread's file, without extension.
 */
export function codeBeside(file: string, name: string): URL {
  return pathToFileURL(path.join(path.dirname(file), `${name}${path.extname(file)}`));
}

/** What Node has to be started with in a thread to load such code: nothing where it is compiled. */
export function argumentsFor(code: URL): string[] {
  if (!code.pathname.endsWith(".ts")) return [];
  // Found from here, not from the folder the server was started in.
  const loader = createRequire(import.meta.filename).resolve("tsx");
  return ["--import", pathToFileURL(loader).href];
}
