import { randomBytes } from "node:crypto";
import { chown, link, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { hasCode } from "./systemError.ts";

/**
 * The text of a small file that only its owner may read, made by `make` the first time. It appears whole or not at
 * all, and of two processes that make it at once both get the text of the one that won.
 */
export async function readOrMake(file: string, make: () => string | Promise<string>): Promise<string> {
  const kept = await readIfThere(file);
  if (kept !== undefined) return kept;
  const draft = await writeDraft(file, await make());
  try {
    await link(draft, file);
  } catch (error) {
    if (!hasCode(error, "EEXIST")) throw error;
  } finally {
    await rm(draft);
  }
  return (await readFile(file, "utf8")).trim();
}

/** Puts `text` in the place of what the file held, whole or not at all, readable by its owner only. */
export async function replace(file: string, text: string): Promise<void> {
  await rename(await writeDraft(file, text), file);
}

/** A new secret: 256 bits, in characters that need no escaping in an address. */
export function newSecret(): string {
  return randomBytes(32).toString("base64url");
}

export async function readIfThere(file: string): Promise<string | undefined> {
  try {
    return (await readFile(file, "utf8")).trim();
  } catch (error) {
    if (hasCode(error, "ENOENT")) return undefined;
    throw error;
  }
}

async function writeDraft(file: string, text: string): Promise<string> {
  const draft = `${file}.${randomBytes(6).toString("hex")}`;
  // Flushed: after a power cut the data must not be there without the password that opens it.
  await writeFile(draft, `${text}\n`, { mode: 0o600, flag: "wx", flush: true });
  await giveToFolderOwner(draft);
  return draft;
}

/** Root may have been let in for once; whom the folder belongs to must be able to go on afterwards. */
export async function giveToFolderOwner(file: string): Promise<void> {
  if (process.getuid?.() !== 0) return;
  const owner = await stat(path.dirname(file));
  await chown(file, owner.uid, owner.gid);
}
