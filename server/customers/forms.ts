import { z } from "zod";
import { choiceField, decimalField, textField, tickField } from "../http/formFields.ts";

export const customerForm = z
  .object({
    name: textField({ most: 120 }),
    kind: choiceField(["shop", "market"], "Choose a shop or a market."),
    takesPartDeliveries: tickField(),
    priorityWeight: decimalField({ least: 0.01, most: 100, decimals: 2 }),
    contactName: textField({ most: 120, blank: true }),
    email: textField({ most: 200, blank: true }).pipe(
      z.union([
        z.literal(""),
        z.email({ error: "Give an e-mail address, such as name@shop.example, or leave it blank." }),
      ]),
    ),
    phone: textField({ most: 60, blank: true }),
    address: textField({ most: 500, blank: true }),
    notes: textField({ most: 2000, blank: true }),
  })
  .refine(({ kind, takesPartDeliveries }) => kind === "shop" || !takesPartDeliveries, {
    path: ["takesPartDeliveries"],
    error: "A market takes everything on its day: leave this unticked.",
  });

export type CustomerFacts = z.output<typeof customerForm>;
