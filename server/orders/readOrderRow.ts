import { dateField, wholeNumberField } from "../http/formFields.ts";
import type { FileMistake } from "./fileMistake.ts";
import { referenceField } from "./forms.ts";
import type { KnownCustomer, KnownForFile, KnownProduct } from "./knownForFile.ts";
import { MOST_UNITS, type OrderTerms, orderTerms } from "./order.ts";
import type { OrderColumn, OrderFileRow } from "./orderTable.ts";

/** What a row says, as far as it could be understood: null where a mistake was named instead. */
export interface ReadRow {
  readonly line: number;
  readonly reference: string | null;
  readonly customer: KnownCustomer | null;
  /** "usual" where the file leaves it to the customer. */
  readonly terms: OrderTerms | "usual" | null;
  readonly shipBy: string | null;
  readonly product: KnownProduct | null;
  readonly units: number | null;
  readonly mistakes: readonly FileMistake[];
}

/** Understands rows one by one, each cell on its own, so that every mistake of a row is named at once. */
export function rowReader(
  known: Pick<KnownForFile, "customers" | "products">,
): (row: OrderFileRow) => ReadRow {
  const customers = new Map<string, KnownCustomer>();
  for (const customer of known.customers) {
    const key = nameKey(customer.name);
    if (!customers.has(key)) customers.set(key, customer);
  }
  const products = productsByName(known.products);
  return (row) => {
    const mistakes: FileMistake[] = [];
    const cell = <Value>(
      column: OrderColumn,
      read: (typed: string) => Value | FileComplaint,
    ): Value | null => {
      const typed = row.cells[column];
      const value = typed === "" && column !== "terms" ? ({ why: "blank", column } as const) : read(typed);
      if (!isComplaint(value)) return value;
      mistakes.push({ line: row.line, ...value });
      return null;
    };
    return {
      line: row.line,
      reference: cell("order", readReference),
      customer: cell<KnownCustomer>(
        "customer",
        (typed) => customers.get(nameKey(typed)) ?? { why: "customer-unknown", typed },
      ),
      terms: cell("terms", readTerms),
      shipBy: cell("ship_by", readDate),
      product: cell<KnownProduct>(
        "product",
        (typed) => products.get(nameKey(typed)) ?? { why: "product-unknown", typed },
      ),
      units: cell("units", readUnits),
      mistakes,
    };
  };
}

/** A mistake whose line is not said yet. */
type FileComplaint = FileMistake extends infer Mistake
  ? Mistake extends FileMistake
    ? Omit<Mistake, "line">
    : never
  : never;

function isComplaint(value: unknown): value is FileComplaint {
  return typeof value === "object" && value !== null && "why" in value;
}

/** By code and, where only one product has it, by name. */
function productsByName(
  products: readonly KnownProduct[],
): ReadonlyMap<string, KnownProduct | FileComplaint> {
  const byName = new Map<string, KnownProduct | FileComplaint>();
  for (const product of products) {
    const key = nameKey(product.name);
    byName.set(key, byName.has(key) ? { why: "product-ambiguous", typed: product.name } : product);
  }
  for (const product of products) byName.set(nameKey(product.code), product);
  return byName;
}

function readReference(typed: string): string | FileComplaint {
  const wellFormed = referenceField.safeParse(typed).success && !typed.includes('"');
  return wellFormed ? typed : { why: "reference", typed };
}

function readTerms(typed: string): OrderTerms | "usual" | FileComplaint {
  if (typed === "") return "usual";
  return orderTerms.find((terms) => terms === typed.toLowerCase()) ?? { why: "terms", typed };
}

const aDate = dateField();

function readDate(typed: string): string | FileComplaint {
  return aDate.safeParse(typed).data ?? { why: "date", typed };
}

const aCount = wholeNumberField({ least: 1, most: MOST_UNITS });

function readUnits(typed: string): number | FileComplaint {
  return aCount.safeParse(typed).data ?? { why: "units", typed };
}

/** Names are the same whatever their capitals, their spaces, and the way their accents are written. */
function nameKey(name: string): string {
  return name.normalize("NFC").trim().replaceAll(/\s+/g, " ").toLowerCase();
}
