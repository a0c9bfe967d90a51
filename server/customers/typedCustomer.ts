import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { plainMoney, plainShare } from "../../views/format/money.ts";
import type { CustomerFacts } from "./forms.ts";

/** What is known of a customer, as the maker would have typed it. */
export function typedCustomer(
  facts: Omit<CustomerFacts, "shippingMinor" | "leastOrderMinor"> & {
    readonly shippingMinor: number;
    readonly leastOrderMinor: number | null;
  },
  shapes: readonly { readonly id: number }[],
): FormAnswer["typed"] {
  const { currency, contacts, casePacks } = facts;
  const caseOf = new Map(casePacks.map(({ shapeId, units }) => [shapeId, String(units)]));
  return {
    name: facts.name,
    kind: facts.kind,
    takesPartDeliveries: facts.takesPartDeliveries ? "yes" : "",
    priorityWeight: String(facts.priorityWeight),
    address: facts.address,
    notes: facts.notes,
    takesBy: facts.takesBy ?? "",
    transitDays: String(facts.transitDays),
    netDays: String(facts.netDays),
    orderDiscount: plainShare(facts.orderDiscountBasisPoints),
    earlyDiscount: plainShare(facts.earlyDiscountBasisPoints),
    earlyDiscountDays: String(facts.earlyDiscountDays),
    shipping: plainMoney(facts.shippingMinor, currency),
    leastOrder: facts.leastOrderMinor === null ? "" : plainMoney(facts.leastOrderMinor, currency),
    leastUnits: facts.leastOrderUnits === null ? "" : String(facts.leastOrderUnits),
    taxGroup: facts.taxGroupId === null ? "" : String(facts.taxGroupId),
    priceList: facts.priceListId === null ? "" : String(facts.priceListId),
    contactName: contacts.map(({ name }) => name),
    contactRole: contacts.map(({ role }) => role),
    phone: contacts.map(({ phone }) => phone),
    email: contacts.map(({ email }) => email),
    caseShape: shapes.map(({ id }) => String(id)),
    caseUnits: shapes.map(({ id }) => caseOf.get(id) ?? ""),
  };
}
