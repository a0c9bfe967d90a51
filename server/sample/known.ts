import type { Result } from "../basics/result.ts";

/** What a command made. The sample is right as it stands, so a refusal is a mistake in it. */
export function taken<Value>(outcome: Result<Value, unknown>): Value {
  if (outcome.ok) return outcome.value;
  throw new Error(`The sample was refused: ${JSON.stringify(outcome.refusal)}`);
}

/** The id of something the sample calls by its name or code. */
export function known(ids: ReadonlyMap<string, number>, name: string): number {
  const id = ids.get(name);
  if (id === undefined) throw new Error(`The sample speaks of ${name}, which it does not have`);
  return id;
}

export function entriesOf(numbers: Readonly<Record<string, number>>): readonly [string, number][] {
  return Object.entries(numbers);
}
