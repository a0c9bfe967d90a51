import type { OrderState, OrderTerms } from "../../server/orders/order.ts";
import type { OrderMoney } from "../../server/prices/priceOrder.ts";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { openWords } from "./openWords.ts";

export interface OrderInvoice {
  readonly id: number;
  readonly kind: "invoice" | "credit-note";
  readonly year: number;
  readonly number: number;
  readonly issuedOn: string;
  readonly dueOn: string | null;
  readonly currency: string;
  readonly grossMinor: number;
  /** Null for a credit note. */
  readonly openMinor: number | null;
}

interface OrderToBill {
  readonly id: number;
  readonly state: OrderState;
  readonly terms: OrderTerms;
  readonly money: OrderMoney;
  readonly invoices: readonly OrderInvoice[];
}

/** What is billed of an order, and the way to bill more of it. A market's order is billed to nobody. */
export function OrderInvoices({ order }: { readonly order: OrderToBill }) {
  const { id, state, terms, money, invoices } = order;
  const offered = terms !== "market" && state !== "draft" && money.fixed;
  if (!offered && invoices.length === 0) return null;
  return (
    <section>
      <h2>What is billed</h2>
      <p>{billedWords(order)}</p>
      {invoices.length > 0 && (
        <ul class="plain-list">
          {invoices.map((invoice) => (
            <li key={invoice.id}>
              <a href={`/invoices/${invoice.id}`}>
                {invoice.kind === "invoice" ? "Invoice" : "Credit note"} {paperNumber(invoice)}
              </a>{" "}
              of {shortDayWords(invoice.issuedOn)}, {moneyWords(invoice.grossMinor, invoice.currency)}
              {openWords(invoice)}
            </li>
          ))}
        </ul>
      )}
      {offered && (
        <p class="actions">
          <a class="button quiet" href={`/invoices/of-order/${id}`}>
            Write an invoice
          </a>
        </p>
      )}
    </section>
  );
}

function billedWords({ money, invoices }: OrderToBill): string {
  if (invoices.length === 0) return "Nothing yet.";
  const billed = invoices.reduce(
    (sum, { kind, grossMinor }) => sum + (kind === "invoice" ? grossMinor : -grossMinor),
    0,
  );
  const { currency, totals } = money;
  if (billed === totals.grossMinor) return `All of it, ${moneyWords(billed, currency)}.`;
  return `${moneyWords(billed, currency)}, less what was credited; the order comes to ${moneyWords(totals.grossMinor, currency)}.`;
}
