import { createHash } from "node:crypto";
import { z } from "zod";
import { dateField, fieldOf, idField, wholeNumberField } from "../http/formFields.ts";
import type { Seals } from "../http/seals.ts";
import { typedLines } from "./lineFields.ts";
import { MOST_LINES, MOST_UNITS, type OrderedProduct } from "./order.ts";

/** What can be read of a form that is still being typed; nothing in it is a mistake yet. */
export interface FormBeingTyped {
  /** Tells one form from another, as long as it is open. */
  readonly form: string;
  /** The order whose form it is; null for one that is not there yet. */
  readonly orderId: number | null;
  readonly customerId: number | null;
  readonly neededBy: string | null;
  readonly shipBy: string | null;
  readonly lines: readonly OrderedProduct[];
}

const anyId = idField("");
const anyUnits = wholeNumberField({ least: 1, most: MOST_UNITS });
const anyDate = dateField();

export function readFormBeingTyped(body: unknown): FormBeingTyped {
  return {
    form: z.string().catch("").parse(fieldOf(body, "form_token")),
    orderId: anyId.safeParse(fieldOf(body, "order")).data ?? null,
    customerId: anyId.safeParse(fieldOf(body, "customer")).data ?? null,
    neededBy: anyDate.safeParse(fieldOf(body, "needed_by")).data ?? null,
    shipBy: anyDate.safeParse(fieldOf(body, "ship_by")).data ?? null,
    lines: linesBeingTyped(body),
  };
}

/** Lines that are whole already; of a product that stands in two lines all pieces together. */
function linesBeingTyped(body: unknown): readonly OrderedProduct[] {
  const unitsOf = new Map<number, number>();
  for (const typed of typedLines(body).slice(0, MOST_LINES)) {
    const product = anyId.safeParse(typed.product);
    const units = anyUnits.safeParse(typed.units);
    if (!product.success || !units.success) continue;
    unitsOf.set(product.data, (unitsOf.get(product.data) ?? 0) + units.data);
  }
  return [...unitsOf].map(([productId, units]) => ({ productId, units }));
}

/** The advice a form was given, as it carries it back: what may be promised for which lines, and when that was found. */
export interface CarriedAdvice {
  /** Null: no date was found within the sessions there are. */
  readonly shipBy: string | null;
  readonly at: Date;
  /** As `keyOfLines` has them. */
  readonly forLines: string;
}

/** What an advice is sealed with: nothing in it can be changed, nor does it fit the form of another order. */
export function sealAdvice(seals: Seals, orderId: number | null, advice: CarriedAdvice): string {
  return seals.sealOf(ADVICE, sealedFacts(orderId, advice));
}

const ADVICE = "advice on a promise";

function sealedFacts(orderId: number | null, { shipBy, at, forLines }: CarriedAdvice) {
  return [orderId, shipBy, at.toISOString(), forLines];
}

const carried = z.object({
  advised_ship_by: z.union([z.literal("none").transform(() => null), dateField()]),
  advised_at: z.iso.datetime().transform((text) => new Date(text)),
  advised_for: z.string(),
  advised_seal: z.string(),
});

/** Null where the form carries none, or none that was given by us for this order. */
export function readCarriedAdvice(body: unknown, seals: Seals, orderId: number | null): CarriedAdvice | null {
  const read = carried.safeParse(body);
  if (!read.success) return null;
  const { advised_ship_by: shipBy, advised_at: at, advised_for: forLines, advised_seal: seal } = read.data;
  const advice = { shipBy, at, forLines };
  return seals.fits(seal, ADVICE, sealedFacts(orderId, advice)) ? advice : null;
}

/** Equal for the same pieces of the same products, in whatever order they stand. */
export function keyOfLines(lines: readonly OrderedProduct[]): string {
  const pairs = lines.map(({ productId, units }) => [productId, units] as const);
  pairs.sort(([one], [other]) => one - other);
  return createHash("sha256").update(JSON.stringify(pairs)).digest("hex").slice(0, 32);
}
