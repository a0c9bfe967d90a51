import { z } from "zod";
import { choiceField, textField } from "../http/formFields.ts";

/** How an order leaves; carrier and tracking as the shop names them, both may be blank. */
export const shippingForm = z.object({
  how: choiceField(["parcel", "local-round", "collected", "market-crate"], "Choose how it leaves."),
  carrier: textField({ most: 80, blank: true }),
  tracking: textField({ most: 120, blank: true }),
});

export type ShippingForm = z.output<typeof shippingForm>;
