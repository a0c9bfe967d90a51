import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { PaperSheet } from "./PaperSheet.tsx";
import type { PaperShop } from "./paper.ts";
import { type ShownStatement, statementPaper } from "./statementPaper.ts";

interface StatementPageProps {
  readonly statement: ShownStatement;
  readonly shop: PaperShop;
}

/** What one customer has still to pay, as a page and as the paper that is sent. */
export function StatementPage({ statement, shop }: StatementPageProps) {
  const { customer, invoices } = statement;
  return (
    <>
      <div class="not-printed">
        <p class="trail">
          <a href="/invoices">Invoices</a>
          {" · "}
          <a href={`/setup/customers/${customer.id}`}>{customer.name}</a>
        </p>
        <h1>{headline(statement)}</h1>
        <p class="actions">
          <a class="button quiet" href={`/invoices/statements/${customer.id}/statement.pdf`} download>
            Save it as PDF
          </a>
          <a class="button quiet" href={`/invoices/statements/${customer.id}/statement.csv`} download>
            Save it as CSV
          </a>
        </p>
        {invoices.length > 0 && (
          <ul class="chips push-row" aria-label="Its open invoices">
            {invoices.map((invoice) => (
              <li key={invoice.id}>
                <a href={`/invoices/${invoice.id}`}>{paperNumber(invoice)}</a>
              </li>
            ))}
          </ul>
        )}
        <p class="aside">Print this page: only the statement comes out.</p>
      </div>
      <PaperSheet paper={statementPaper(statement, { shop })} />
    </>
  );
}

function headline({ customer, standing, currency }: ShownStatement): string {
  const { balanceMinor, overdueMinor } = standing;
  const money = (minor: number) => moneyWords(minor, currency);
  if (balanceMinor === 0) return `${customer.name} has nothing to pay.`;
  if (balanceMinor < 0) return `${money(-balanceMinor)} are in the favour of ${customer.name}.`;
  return overdueMinor === 0
    ? `${customer.name} has ${money(balanceMinor)} to pay; nothing is overdue.`
    : `${customer.name} has ${money(balanceMinor)} to pay, ${money(overdueMinor)} overdue.`;
}
