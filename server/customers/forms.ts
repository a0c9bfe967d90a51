import { z } from "zod";
import {
  blankOr,
  choiceField,
  decimalField,
  idField,
  rowsOf,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { moneyField, shareField } from "../http/moneyFields.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { waysToTake } from "./terms.ts";

/** Contacts of one customer at most. */
const MOST_CONTACTS = 20;
/** Dearest usual charge and least order value, in minor units. */
const MOST_CHARGE = 1_000_000_000;
/** Pieces in a case at most. */
const MOST_CASE = 10_000;

/** The form of a customer; amounts are typed in the workshop's currency, which the form's mistakes name. */
export function customerForm(currency: string) {
  const charge = moneyField(currency, { least: 0, most: MOST_CHARGE });
  return z
    .preprocess(
      withRepeatedParts,
      z.object({
        name: textField({ most: 120 }),
        kind: choiceField(["shop", "market"], "Choose a shop or a market."),
        takesPartDeliveries: tickField(),
        priorityWeight: decimalField({ least: 0.01, most: 100, decimals: 2 }),
        address: textField({ most: 500, blank: true }),
        takesBy: blankOr(choiceField(waysToTake, "Choose how what is ordered gets there.")),
        transitDays: blankOr(wholeNumberField({ least: 0, most: 30 })).transform((days) => days ?? 0),
        netDays: blankOr(wholeNumberField({ least: 0, most: 365 })).transform((days) => days ?? 0),
        orderDiscount: blankOr(shareField()).transform((share) => share ?? 0),
        earlyDiscount: blankOr(shareField()).transform((share) => share ?? 0),
        earlyDiscountDays: blankOr(wholeNumberField({ least: 0, most: 365 })).transform((days) => days ?? 0),
        shipping: blankOr(charge).transform((amount) => amount ?? minorUnits(0)),
        leastOrder: blankOr(moneyField(currency, { least: 1, most: MOST_CHARGE })),
        leastUnits: blankOr(wholeNumberField({ least: 1, most: 100_000 })),
        taxGroup: blankOr(idField()),
        priceList: blankOr(idField()),
        notes: textField({ most: 2000, blank: true }),
        contacts: contactsField,
        casePacks: casePacksField,
      }),
    )
    .superRefine(holdTogether)
    .transform(
      ({ orderDiscount, earlyDiscount, shipping, leastOrder, leastUnits, taxGroup, priceList, ...rest }) => ({
        ...rest,
        orderDiscountBasisPoints: orderDiscount,
        earlyDiscountBasisPoints: earlyDiscount,
        shippingMinor: shipping,
        leastOrderMinor: leastOrder,
        leastOrderUnits: leastUnits,
        taxGroupId: taxGroup,
        priceListId: priceList,
        currency,
      }),
    );
}

export type CustomerFacts = z.output<ReturnType<typeof customerForm>>;

const emailField = textField({ most: 200, blank: true }).pipe(
  z.union([
    z.literal(""),
    z.email({ error: "Give an e-mail address, such as name@shop.example, or leave it blank." }),
  ]),
);

/** Contacts are sent as four lists side by side; a row with nothing in it is not there. */
const contactsField = z
  .array(
    z.object({
      name: textField({ most: 120, blank: true }),
      role: textField({ most: 80, blank: true }),
      phone: textField({ most: 60, blank: true }),
      email: emailField,
    }),
  )
  .superRefine((contacts, context) => {
    for (const [place, contact] of contacts.entries())
      if (contact.role !== "" && !isSomebody(contact))
        context.addIssue({ code: "custom", path: [place, "name"], message: "Say who that is." });
  })
  .transform((contacts) => contacts.filter(isSomebody))
  .refine((contacts) => contacts.length <= MOST_CONTACTS, {
    error: `Write down at most ${MOST_CONTACTS} contacts.`,
  });

function isSomebody({ name, phone, email }: { name: string; phone: string; email: string }): boolean {
  return `${name}${phone}${email}` !== "";
}

/** Case sizes are sent as two lists side by side: the shape, and so many pieces or nothing. */
const casePacksField = z
  .array(
    z.object({
      shapeId: idField("Reload the page."),
      units: blankOr(wholeNumberField({ least: 1, most: MOST_CASE })),
    }),
  )
  .transform((packs) => packs.flatMap(({ shapeId, units }) => (units === null ? [] : [{ shapeId, units }])))
  .refine((packs) => new Set(packs.map(({ shapeId }) => shapeId)).size === packs.length, {
    error: "Each shape has one case size: reload the page.",
  });

interface HeldTogether {
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
  readonly takesBy: string | null;
  readonly transitDays: number;
  readonly netDays: number;
  readonly earlyDiscount: number;
  readonly earlyDiscountDays: number;
}

function holdTogether(facts: HeldTogether, context: z.RefinementCtx): void {
  const wrong = (path: string, message: string) =>
    context.addIssue({ code: "custom", path: [path], message });
  if (facts.kind === "market" && facts.takesPartDeliveries)
    wrong("takesPartDeliveries", "A market takes everything on its day: leave this unticked.");
  if (facts.transitDays > 0 && facts.takesBy !== null && facts.takesBy !== "parcel")
    wrong("transitDays", "Only a parcel is under way for days: put 0 here.");
  if ((facts.earlyDiscount === 0) !== (facts.earlyDiscountDays === 0))
    wrong("earlyDiscountDays", "A discount for paying early needs both: how much, and within how many days.");
  else if (facts.earlyDiscountDays > facts.netDays)
    wrong("earlyDiscountDays", "Early has to come before the last day to pay.");
}

/** Gathers the lists of the form into rows. */
function withRepeatedParts(body: unknown): unknown {
  if (typeof body !== "object" || body === null) return body;
  return {
    ...body,
    contacts: rowsOf(body, { name: "contactName", role: "contactRole", phone: "phone", email: "email" }),
    casePacks: rowsOf(body, { shapeId: "caseShape", units: "caseUnits" }),
  };
}
