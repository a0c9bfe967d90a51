import { PlainFailure } from "../basics/plainFailure.ts";
import { readConfig } from "../config.ts";
import { serveUntilStopped } from "./serve.ts";

/** Runs the server on the data of the environment's settings until it is stopped. */
export async function run(words: readonly string[]): Promise<number> {
  if (words.length > 0)
    throw new PlainFailure(`start takes no words, only settings; "${words[0]}" is one.`, 2);
  const config = readConfig(process.env);
  if (!config.ok) throw new PlainFailure(["The settings are wrong:", ...config.refusal].join("\n  "), 2);
  return serveUntilStopped(config.value, ({ address }) =>
    console.log(`Halfmold is ready: open ${address} in a browser. Ctrl-C stops it.`),
  );
}
