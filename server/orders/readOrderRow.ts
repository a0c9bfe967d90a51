import { textField, wholeNumberField } from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";
import { type DateHabit, readFileDate } from "./fileDates.ts";
import type { FileMistake } from "./fileMistake.ts";
import { type FileMeaning, meaningKey, type NamedInFile, nameKey } from "./fileNames.ts";
import { MOST_CUSTOMER_REFERENCE, MOST_NOTE, referenceField } from "./forms.ts";
import type { KnownCustomer, KnownForFile, KnownProduct } from "./knownForFile.ts";
import { MOST_UNIT_PRICE_MINOR } from "./lineFields.ts";
import { MOST_UNITS, type OrderTerms, orderTerms } from "./order.ts";
import type { OrderColumn, OrderFileRow } from "./orderTable.ts";

/** What a row says, as far as it could be understood: null where a mistake was named instead, or where it says nothing. */
export interface ReadRow {
  readonly line: number;
  readonly reference: string | null;
  readonly customer: KnownCustomer | null;
  /** "usual" where the file leaves it to the customer. */
  readonly terms: OrderTerms | "usual" | null;
  readonly shipBy: string | null;
  readonly neededBy: string | null;
  readonly theirNumber: string | null;
  readonly note: string | null;
  readonly product: KnownProduct | null;
  readonly units: number | null;
  /** For one piece; null: as the price lists say. */
  readonly unitPriceMinor: number | null;
  readonly mistakes: readonly FileMistake[];
}

/** A row that is passed over, because somebody said that this name in it is to be left out. */
export interface LeftOutRow {
  readonly line: number;
  readonly leftOut: { readonly what: NamedInFile; readonly written: string };
}

type KnownForRows = Pick<KnownForFile, "customers" | "products" | "meanings" | "currency">;

/** Understands rows one by one, each cell on its own, so that every mistake of a row is named at once. */
export function rowReader(
  known: KnownForRows,
  dates: DateHabit,
): (row: OrderFileRow) => ReadRow | LeftOutRow {
  const findCustomer = finder("customer", customersByName(known.customers), known.customers, known.meanings);
  const findProduct = finder("product", productsByName(known.products), known.products, known.meanings);
  const readPrice = readOnce(priceReader(known.currency));
  const readDate = readOnce((typed) => dateOrComplaint(typed, dates));
  return (row) => {
    const { line, cells } = row;
    if (findCustomer(cells.customer) === "leave-out")
      return { line, leftOut: { what: "customer", written: cells.customer } };
    if (findProduct(cells.product) === "leave-out")
      return { line, leftOut: { what: "product", written: cells.product } };
    const { needed, optional, mistakes } = cellsOf(row);
    const read = {
      line,
      reference: needed("order", readReference),
      customer: needed("customer", (typed) => thingOr(findCustomer(typed))),
      terms: cells.terms === "" ? ("usual" as const) : optional("terms", readTerms),
      shipBy: optional("ship_by", readDate),
      neededBy: optional("needed_by", readDate),
      theirNumber: optional("their_number", readTheirNumber),
      note: optional("note", readNote),
      product: needed("product", (typed) => thingOr(findProduct(typed))),
      units: needed("units", readUnits),
      unitPriceMinor: optional("price", readPrice),
    };
    if (cells.ship_by === "" && cells.needed_by === "") mistakes.push({ line, why: "no-date" });
    return { ...read, mistakes };
  };
}

/** Reads the cells of one row and gathers what is wrong with them. */
function cellsOf({ line, cells }: OrderFileRow) {
  const mistakes: FileMistake[] = [];
  const kept = <Value>(value: Value | FileComplaint): Value | null => {
    if (!isComplaint(value)) return value;
    mistakes.push({ line, ...value });
    return null;
  };
  return {
    mistakes,
    needed: <Value>(column: OrderColumn, read: (typed: string) => Value | FileComplaint): Value | null =>
      cells[column] === "" ? kept<Value>({ why: "blank", column }) : kept(read(cells[column])),
    optional: <Value>(column: OrderColumn, read: (typed: string) => Value | FileComplaint): Value | null =>
      cells[column] === "" ? null : kept(read(cells[column])),
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

/** By name; then by what somebody said a text means that is nobody's name. */
function finder<Thing extends { readonly id: number }>(
  what: NamedInFile,
  byName: ReadonlyMap<string, Thing | FileComplaint>,
  things: readonly Thing[],
  meanings: ReadonlyMap<string, FileMeaning>,
): (typed: string) => Thing | FileComplaint | "leave-out" {
  const byId = new Map(things.map((thing) => [thing.id, thing]));
  return readOnce((typed) => {
    const named = byName.get(nameKey(typed));
    if (named && !isComplaint(named)) return named;
    const meaning = meanings.get(meaningKey(what, typed));
    if (meaning === "leave-out") return meaning;
    const meant = meaning && byId.get(meaning.id);
    return meant ?? named ?? { why: `${what}-unknown`, typed };
  });
}

/** A long file says the same names, dates and prices over and over: each is read the first time only. */
function readOnce<Value>(read: (typed: string) => Value): (typed: string) => Value {
  const values = new Map<string, Value>();
  return (typed) => {
    const known = values.get(typed);
    if (known !== undefined) return known;
    const value = read(typed);
    values.set(typed, value);
    return value;
  };
}

/** Rows with what is left out do not come this far. */
function thingOr<Thing>(found: Thing | FileComplaint | "leave-out"): Thing | FileComplaint {
  if (found === "leave-out") throw new Error("A row that is left out was read");
  return found;
}

function customersByName(customers: readonly KnownCustomer[]): ReadonlyMap<string, KnownCustomer> {
  const byName = new Map<string, KnownCustomer>();
  for (const customer of customers) {
    const key = nameKey(customer.name);
    if (!byName.has(key)) byName.set(key, customer);
  }
  return byName;
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

function readTerms(typed: string): OrderTerms | FileComplaint {
  return orderTerms.find((terms) => terms === typed.toLowerCase()) ?? { why: "terms", typed };
}

function dateOrComplaint(typed: string, dates: DateHabit): string | FileComplaint {
  return readFileDate(typed, dates) ?? { why: "date", typed, dates };
}

function readTheirNumber(typed: string): string | FileComplaint {
  const fits = typed.length <= MOST_CUSTOMER_REFERENCE && !/\p{Cc}/u.test(typed);
  return fits ? typed : { why: "their-number", typed };
}

const aNote = textField({ most: MOST_NOTE });

function readNote(typed: string): string | FileComplaint {
  return aNote.safeParse(typed).data ?? { why: "note" };
}

const aCount = wholeNumberField({ least: 1, most: MOST_UNITS });

function readUnits(typed: string): number | FileComplaint {
  return aCount.safeParse(typed).data ?? { why: "units", typed };
}

/** With a decimal point or comma; what could be read in two ways is refused. */
function priceReader(currency: string): (typed: string) => number | FileComplaint {
  const price = moneyField(currency, { least: 0, most: MOST_UNIT_PRICE_MINOR });
  return (typed) => {
    const read = price.safeParse(typed);
    return read.success
      ? read.data
      : { why: "price", typed, sentence: read.error.issues[0]?.message ?? "Give an amount." };
  };
}
