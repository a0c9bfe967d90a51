import { readFile, stat } from "node:fs/promises";
import { ok, type Result, refuse } from "../basics/result.ts";

/** Reads and parses a JSON file of at most `mostBytes`; refuses with one sentence that says what is wrong with it. */
export async function readJsonFile(file: string, mostBytes: number): Promise<Result<unknown, string>> {
  let text: string;
  try {
    const { size } = await stat(file);
    if (size > mostBytes) return refuse(`${file} has ${size} bytes; at most ${mostBytes} are read`);
    text = await readFile(file, "utf8");
  } catch (error) {
    return refuse(`${file} can't be read: ${error instanceof Error ? error.message : String(error)}`);
  }
  try {
    return ok(JSON.parse(text.replace(/^\uFEFF/, "")));
  } catch (error) {
    return refuse(`${file} is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}
