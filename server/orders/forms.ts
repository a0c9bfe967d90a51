import { z } from "zod";
import { blankOr, choiceField, dateField, idField, textField } from "../http/formFields.ts";
import { moneyField, shareField } from "../http/moneyFields.ts";
import { linesField, typedLines } from "./lineFields.ts";
import { orderTerms } from "./order.ts";

/** Room for a paragraph of wishes. */
export const MOST_NOTE = 2000;
/** Longest number of a customer's own. */
export const MOST_CUSTOMER_REFERENCE = 60;
/** The largest charge the tables hold, in minor units. */
const MOST_CHARGE_MINOR = 1_000_000_000;

/** One line, at most 40 characters, nothing invisible in it. */
export const referenceField = oneLine(40);

/** The form of a new order. `currency`: what its amounts are typed in. */
export function newOrderForm(currency: string) {
  const fields = z.object({
    reference: referenceField.transform((typed) => (typed === "" ? null : typed)),
    ...contentFields(currency),
    save: choiceField(["draft", "confirm"], "Save it as a draft or confirm it."),
  });
  return z.preprocess(readable, fields).transform(({ save, ...typed }) => ({
    ...contentOf(typed),
    currency,
    confirm: save === "confirm",
  }));
}

/** The form of a change. `currency`: what its amounts are typed in. */
export function changedOrderForm(currency: string) {
  const fields = z.object({
    reference: referenceField.refine((typed) => typed !== "", { error: "Fill this in." }),
    ...contentFields(currency),
    seen: z.string({ error: "Reload the page." }).regex(/^[0-9a-f]{32}$/, { error: "Reload the page." }),
  });
  return z.preprocess(readable, fields).transform((typed) => ({ ...contentOf(typed), currency }));
}

function contentFields(currency: string) {
  return {
    customer: idField("Choose a customer."),
    terms: z
      .union([z.literal(""), choiceField(orderTerms, "Choose how it is delivered.")], {
        error: "Choose how it is delivered.",
      })
      .transform((chosen) => (chosen === "" ? null : chosen)),
    needed_by: blankOr(dateField()),
    // Null once `readable` has seen that the needed-by date says it.
    ship_by: dateField().nullable(),
    customer_reference: oneLine(MOST_CUSTOMER_REFERENCE),
    note: textField({ most: MOST_NOTE, blank: true }),
    discount: blankOr(shareField()),
    shipping: blankOr(moneyField(currency, { least: 0, most: MOST_CHARGE_MINOR })),
    lines: linesField(currency),
  };
}

type TypedContent = z.output<z.ZodObject<ReturnType<typeof contentFields>>>;

/** The names of the form become those of the command. */
function contentOf<Typed extends TypedContent>(typed: Typed) {
  const { customer, needed_by, ship_by, customer_reference, discount, shipping, ...rest } = typed;
  return {
    ...rest,
    customerId: customer,
    neededBy: needed_by,
    shipBy: ship_by,
    customerReference: customer_reference,
    discountBasisPoints: discount,
    shippingMinor: shipping,
  };
}

/** The lines put side by side, and no ship-by date asked for where it follows from the needed-by date. */
function readable(body: unknown): unknown {
  if (typeof body !== "object" || body === null) return body;
  const lines = typedLines(body);
  const shipBy: unknown = Reflect.get(body, "ship_by");
  const reckoned = isBlank(shipBy) && !isBlank(Reflect.get(body, "needed_by"));
  return { ...body, lines, ...(reckoned ? { ship_by: null } : {}) };
}

function isBlank(sent: unknown): boolean {
  return sent === undefined || (typeof sent === "string" && sent.trim() === "");
}

function oneLine(most: number) {
  return textField({ most, blank: true }).refine((typed) => !/\p{Cc}/u.test(typed), {
    error: "Use one line without control characters.",
  });
}
