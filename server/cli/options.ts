import { ok, type Result, refuse } from "../basics/result.ts";

/** What one option takes: nothing, or a value with the words for what it must be. */
export type OptionForm = "flag" | { readonly takes: string; readonly accepts: (text: string) => boolean };

export interface Words {
  readonly files: readonly string[];
  readonly flags: ReadonlySet<string>;
  readonly values: ReadonlyMap<string, string>;
}

/** Splits command-line words into files, flags and options with a value; refuses with every mistake in plain words. */
export function readWords(
  words: readonly string[],
  forms: Readonly<Record<string, OptionForm>>,
): Result<Words, readonly string[]> {
  const files: string[] = [];
  const flags = new Set<string>();
  const values = new Map<string, string>();
  const mistakes: string[] = [];
  const rest = words.values();
  for (const word of rest) {
    if (!word.startsWith("--")) {
      files.push(word);
      continue;
    }
    const form = Object.hasOwn(forms, word) ? forms[word] : undefined;
    if (form === undefined) mistakes.push(`there is no option ${word}`);
    else if (form === "flag") flags.add(word);
    else {
      const value: string | undefined = rest.next().value;
      if (value !== undefined && form.accepts(value)) values.set(word, value);
      else mistakes.push(`${word} needs ${form.takes}${value === undefined ? "" : `, not "${value}"`}`);
    }
  }
  return mistakes.length === 0 ? ok({ files, flags, values }) : refuse(mistakes);
}
