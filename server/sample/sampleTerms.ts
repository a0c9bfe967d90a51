import type { sampleCustomers } from "../../db/demo/customers.ts";
import { sampleCurrency } from "../../db/demo/prices.ts";
import type { CustomerFacts } from "../customers/forms.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { entriesOf, known } from "./known.ts";

/** A sample customer as its form would have given it. */
export function sampleCustomerFacts(
  {
    contactName,
    role,
    phone,
    email,
    cases,
    shippingMinor,
    leastOrderMinor,
    ...customer
  }: (typeof sampleCustomers)[number],
  shapes: ReadonlyMap<string, number>,
): CustomerFacts {
  return {
    ...customer,
    currency: sampleCurrency,
    contacts: contactName === "" ? [] : [{ name: contactName, role, phone, email }],
    casePacks: entriesOf(cases).map(([code, units]) => ({ shapeId: known(shapes, code), units })),
    shippingMinor: minorUnits(shippingMinor),
    leastOrderMinor: leastOrderMinor === null ? null : minorUnits(leastOrderMinor),
    leastOrderUnits: null,
    taxGroupId: null,
    priceListId: null,
  };
}
