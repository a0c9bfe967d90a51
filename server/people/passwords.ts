import { hash, verify } from "@node-rs/argon2";

/** OWASP Password Storage Cheat Sheet: argon2id with 19 MiB, two passes, one lane. */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** A hash of no password, so that an unknown address takes as long to refuse as a wrong password. */
const NOBODY = hash("nobody signs in with this", COST);

export function hashPassword(password: string): Promise<string> {
  return hash(password, COST);
}

/** Whether the password is the one behind the hash; a missing hash costs the same time and is always wrong. */
export async function passwordMatches(passwordHash: string | undefined, password: string): Promise<boolean> {
  const matches = await verify(passwordHash ?? (await NOBODY), password);
  return passwordHash !== undefined && matches;
}
