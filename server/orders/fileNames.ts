import { groupBy } from "../basics/groupBy.ts";
import type { FileMistake } from "./fileMistake.ts";

export type NamedInFile = "customer" | "product";

/** What somebody said a name in a file means. */
export type FileMeaning = { readonly id: number } | "leave-out";

/** A name in a file that nobody here knows yet. */
export interface UnknownName {
  readonly what: NamedInFile;
  /** As the file has it, at its first place. */
  readonly written: string;
  readonly key: string;
  readonly lines: number;
}

/** Longest name that can be remembered. */
const MOST_NAME = 200;
/** Names asked about at once; a file with more of them was hardly meant for this workshop. */
const MOST_ASKED = 100;

/** Names are the same whatever their capitals, their spaces, and the way their accents are written. */
export function nameKey(name: string): string {
  return tidyName(name).toLowerCase();
}

/** A name with single spaces, its accents written one way. */
function tidyName(name: string): string {
  return name.normalize("NFC").trim().replaceAll(/\s+/g, " ");
}

export function meaningKey(what: NamedInFile, name: string): string {
  return `${what}: ${nameKey(name)}`;
}

/**
 * The names to ask about, customers first, each once. Null where there is nothing to ask: no mistakes, or others than
 * unknown names, which only the file itself can mend.
 */
export function unknownNames(mistakes: readonly FileMistake[]): readonly UnknownName[] | null {
  const named = mistakes.flatMap((mistake) => namedBy(mistake) ?? []);
  if (named.length === 0 || named.length < mistakes.length) return null;
  const names = [...groupBy(named, ({ key }) => key).values()].flatMap(([first, ...rest]) =>
    first ? [{ ...first, lines: 1 + rest.length }] : [],
  );
  if (names.length > MOST_ASKED || names.some(({ written }) => written.length > MOST_NAME)) return null;
  return [
    ...names.filter(({ what }) => what === "customer"),
    ...names.filter(({ what }) => what === "product"),
  ];
}

function namedBy(mistake: FileMistake): Omit<UnknownName, "lines"> | null {
  switch (mistake.why) {
    case "customer-unknown":
      return named("customer", mistake.typed);
    case "product-unknown":
    case "product-ambiguous":
      return named("product", mistake.typed);
    default:
      return null;
  }
}

function named(what: NamedInFile, typed: string): Omit<UnknownName, "lines"> {
  return { what, written: tidyName(typed), key: meaningKey(what, typed) };
}
