/** Which of the two series a number is of. */
type InvoiceKind = "invoice" | "credit-note";

interface Numbered {
  readonly kind: InvoiceKind;
  readonly year: number;
  /** From 1, without a gap within its kind and year. */
  readonly number: number;
}

/** "2027-0014" for the fourteenth invoice of 2027, "C2027-0003" for its third credit note; past 9999 they grow longer. */
export function paperNumber({ kind, year, number }: Numbered): string {
  return `${kind === "credit-note" ? "C" : ""}${year}-${String(number).padStart(4, "0")}`;
}
