import type { CardKind } from "../../server/labels/cardSheets.ts";
import { shortDayWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";

/** What is known of a lot that lies on a tray or stands in a box. */
export interface CardFacts {
  readonly kind: CardKind;
  readonly lotCode: string;
  readonly product: string;
  /** Null: written in by hand. */
  readonly units: number | null;
  /** ISO date on which it was formed; null before. */
  readonly formedOn: string | null;
  /** ISO date from which it may be packed; null where it may be already, or nobody knows. */
  readonly readyOn: string | null;
  /** Which of how many trays or boxes of this lot it is. */
  readonly number: number;
  readonly of: number;
  /** For which order and customer it is packed. */
  readonly order: { readonly reference: string; readonly customer: string } | null;
}

export type CardRole = "lot" | "product" | "pieces" | "dates" | "order";

/** The words of a card, from above. */
export function cardWords(card: CardFacts): ReadonlyMap<CardRole, string> {
  const words: Readonly<Record<CardRole, string>> = {
    lot: card.lotCode,
    product: shortened(card.product),
    pieces: `${piecesWords(card)}${card.of > 1 ? `, ${card.kind} ${card.number} of ${card.of}` : ""}`,
    dates: datesWords(card),
    order: card.order ? shortened(`${card.order.reference} ${card.order.customer}`) : "",
  };
  const order = ["lot", "product", "pieces", "dates", "order"] as const;
  return new Map(order.flatMap((role) => (words[role] === "" ? [] : [[role, words[role]] as const])));
}

function piecesWords({ kind, units, of }: CardFacts): string {
  if (units === null) return "________ pieces";
  return kind === "tray" && of > 1 ? `${pieces(units)} in all` : pieces(units);
}

function datesWords({ kind, formedOn, readyOn }: CardFacts): string {
  const formed = formedOn === null ? "" : `formed ${shortDayWords(formedOn)}`;
  const ready = kind === "box" || readyOn === null ? "" : `ready ${shortDayWords(readyOn)}`;
  return [formed, ready].filter((words) => words !== "").join(", ");
}

/** Longest word that a line of the smallest card holds. */
const LONGEST_WORD = 20;

export function shortened(words: string): string {
  return words
    .split(/\s+/)
    .map((word) => (word.length > LONGEST_WORD ? `${word.slice(0, LONGEST_WORD - 1)}…` : word))
    .join(" ");
}
