import type { BlendLook } from "../components/Swatch.tsx";

/** The shop as a paper names it. */
export interface PaperShop {
  readonly name: string;
  readonly address: string;
  readonly taxNumber: string;
  /** What stands below everything: bank, and the shop's own words. */
  readonly foot: readonly string[];
}

/** A cell of a paper's table; `aside` stands below it, smaller. */
export interface PaperCell {
  readonly words: string;
  readonly aside?: string;
  /** An empty square stands before each of its lines, to be ticked with a pen. */
  readonly ticked?: boolean;
}

interface PaperRow {
  /** One a column; the first names the row. */
  readonly cells: readonly PaperCell[];
  /** How the product looks, for pages only. */
  readonly look?: BlendLook;
}

export interface PaperSum {
  readonly name: string;
  readonly words: string;
  readonly strong?: boolean;
}

/**
 * What a paper says, word by word. The page and the file are both drawn from it, so that they can never say different
 * things.
 */
export interface Paper {
  /** "Invoice", "Packing slip". */
  readonly name: string;
  /** "2027-0014", "W-104". */
  readonly number: string;
  /** ISO 8601; when it is of, also for the file's own dates. */
  readonly dated: string;
  readonly shop: PaperShop;
  /** Whom it is for; "To" stands above where it has no heading of its own. */
  readonly to: { readonly heading?: string; readonly name: string; readonly address: string };
  readonly facts: readonly (readonly [name: string, words: string])[];
  /** Columns after the first are numbers where they say so; a wide one has the width that is left instead of the first. */
  readonly columns: readonly { readonly name: string; readonly number: boolean; readonly wide?: boolean }[];
  readonly rows: readonly PaperRow[];
  readonly sums: readonly PaperSum[];
  readonly notes: readonly string[];
  /** Lines to sign on. */
  readonly signatures: readonly string[];
}

/** What a paper is called, by itself and as a file. */
export function paperTitle({ name, number }: Pick<Paper, "name" | "number">): string {
  return `${name} ${number}`;
}
