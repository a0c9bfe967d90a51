/** Something the workshop has a limit of. */
export type Resource =
  | { readonly resource: "moldSets"; readonly shape: string }
  | { readonly resource: "trays" | "handMinutes" | "mixers" };
