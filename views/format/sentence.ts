/** Words as a sentence: a capital first, a full stop last. */
export function sentence(words: string): string {
  return `${capitalised(words)}.`;
}

/** Words as a title. */
export function capitalised(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** "cedar", "cedar and oat", "cedar, oat and sea fennel"; nothing for none. */
export function listed(names: readonly string[]): string {
  return names.length > 1 ? `${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : names.join("");
}
