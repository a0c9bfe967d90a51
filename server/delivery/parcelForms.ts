import { z } from "zod";
import { blankOr, choiceField, rowsOf, textField, wholeNumberField } from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";

/** Parcels written down at once, the weight of one in grams, and its cost in minor units, at most. */
const MOST_PARCELS = 50;
const MOST_GRAMS = 1_000_000;
const MOST_COST = 1_000_000_000;

const NOT_ON_THE_LIST = "Choose one from the list.";

/** A carrier with one of its services, or none of them, as one choice sends it: "7/overnight", "7/". */
const sentWithField = z
  .string({ error: NOT_ON_THE_LIST })
  .transform((sent) => /^([1-9]\d{0,8})\/(.{0,80})$/.exec(sent))
  .transform((read, context) => {
    if (read) return { carrierId: Number(read[1]), service: read[2] ?? "" };
    context.addIssue({ code: "custom", message: NOT_ON_THE_LIST });
    return z.NEVER;
  }) as unknown as z.ZodType<{ readonly carrierId: number; readonly service: string }>;

/**
 * One parcel. What it cost is read in the currency given, and stays what it is (undefined) where none is given: not
 * everybody who sends parcels sees what they cost.
 */
function parcelFields(currency: string | null) {
  const cost = blankOr(moneyField(currency ?? "", { least: 0, most: MOST_COST }));
  return z
    .object({
      sentWith: blankOr(sentWithField),
      grams: blankOr(wholeNumberField({ least: 1, most: MOST_GRAMS })),
      tracking: textField({ most: 120, blank: true }),
      cost: currency === null ? z.preprocess(() => null, z.null()) : cost,
    })
    .transform(({ sentWith, cost, ...rest }) => ({
      ...rest,
      carrierId: sentWith?.carrierId ?? null,
      service: sentWith?.service ?? "",
      ...(currency === null ? {} : { costMinor: cost, currency }),
    }));
}

export type ParcelFacts = z.output<ReturnType<typeof parcelFields>>;

/** One parcel by itself; something has to be said of it. */
export function parcelForm(currency: string | null) {
  return parcelFields(currency).refine(isKnown, {
    path: ["sentWith"],
    error: "Say something of it: who takes it, what it weighs or its number.",
  });
}

/** How an order leaves, with its parcels side by side; rows left empty do not count. */
export function shippingForm(currency: string | null) {
  return z.preprocess(
    withParcels,
    z.object({
      how: choiceField(["parcel", "local-round", "collected", "market-crate"], "Choose how it leaves."),
      parcels: z
        .array(parcelFields(currency))
        .transform((parcels) => parcels.filter(isKnown))
        .refine((parcels) => parcels.length <= MOST_PARCELS, {
          error: `Write down at most ${MOST_PARCELS} parcels.`,
        }),
    }),
  );
}

export interface ShippingFacts {
  readonly how: "parcel" | "local-round" | "collected" | "market-crate";
  readonly parcels: readonly ParcelFacts[];
}

function isKnown({ carrierId, grams, tracking, costMinor }: ParcelFacts): boolean {
  return carrierId !== null || grams !== null || tracking !== "" || (costMinor ?? null) !== null;
}

function withParcels(body: unknown): unknown {
  if (typeof body !== "object" || body === null) return body;
  const fields = { sentWith: "sentWith", grams: "grams", tracking: "tracking", cost: "cost" };
  return { ...body, parcels: rowsOf(body, fields) };
}
