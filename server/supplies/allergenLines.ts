import type { z } from "zod";
import { plainFineShare } from "../../views/format/money.ts";
import { textField } from "../http/formFields.ts";
import { fineShareField } from "../http/moneyFields.ts";

/** A listed allergen in an ingredient, in parts per million of its weight. */
export interface StatedAllergen {
  /** As labels call it. */
  readonly name: string;
  readonly sharePpm: number;
}

/** What is written instead of lines where a supplier states that there are none. */
export const NO_ALLERGENS = "none";

/** Regulation (EC) 1223/2009, Annex III, lists some eighty since Regulation (EU) 2023/1545. */
const MOST_LINES = 120;

const nameField = textField({ most: 120 });

/**
 * A supplier's statement of listed allergens, a line each: its name, then its percentage of the ingredient, such as
 * "Linalool 2.5 %". "none" is a statement with no lines; blank is no statement, which is null.
 */
export function readAllergens(typed: string, context: z.RefinementCtx): readonly StatedAllergen[] | null {
  const lines = typed.split("\n").map((line) => line.trim());
  const filled = [...lines.entries()].filter(([, line]) => line !== "");
  if (filled.length === 0) return null;
  if (filled.length === 1 && filled[0]?.[1].toLowerCase() === NO_ALLERGENS) return [];
  const wrong = (message: string) => context.addIssue({ code: "custom", message });
  if (filled.length > MOST_LINES) wrong(`At most ${MOST_LINES} lines.`);
  const byName = new Map<string, StatedAllergen>();
  for (const [place, line] of filled.slice(0, MOST_LINES)) {
    const allergen = readLine(line);
    if (typeof allergen === "string") wrong(`Line ${place + 1}: ${allergen}`);
    else if (byName.has(allergen.name.toLowerCase()))
      wrong(`Line ${place + 1}: ${allergen.name} stands above already.`);
    else byName.set(allergen.name.toLowerCase(), allergen);
  }
  return [...byName.values()];
}

/** The allergen, or what is wrong with the line. */
function readLine(line: string): StatedAllergen | string {
  const [, name = "", share = ""] = /^(.*\S)\s+(\S+)$/.exec(line.replace(/\s*%$/, "")) ?? [];
  if (name === "") return "Give the allergen and its percentage of the oil, such as Linalool 2.5.";
  const read = {
    name: nameField.safeParse(name.replace(/[\s:;,=]+$/, "").replaceAll(/\s+/g, " ")),
    share: fineShareField().safeParse(share),
  };
  if (read.name.success && read.share.success) return { name: read.name.data, sharePpm: read.share.data };
  return (read.name.error ?? read.share.error)?.issues[0]?.message ?? "Look at this again.";
}

/** A statement as it is typed. */
export function allergenLines(allergens: readonly StatedAllergen[]): string {
  if (allergens.length === 0) return NO_ALLERGENS;
  return allergens.map(({ name, sharePpm }) => `${name} ${plainFineShare(sharePpm)}`).join("\n");
}
