import { Form } from "../components/Form.tsx";
import { dateOf, dayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { SetupTrail } from "../setup/SetupTrail.tsx";

interface LinkPageProps {
  readonly customer: {
    readonly id: number;
    readonly name: string;
    /** The open link; null: there is none. */
    readonly link: { readonly madeAt: Date; readonly madeBy: string; readonly orders: number } | null;
    /** Whether it is a shop that orders: no other may have a page. */
    readonly mayHaveOne: boolean;
  };
  /** The whole address, only in the answer that made it. */
  readonly address: string | null;
  /** Why something just asked for was not done, or what was done before. */
  readonly notice: string | null;
}

/** A shop's own order page, as its owner opens and closes it. */
export function LinkPage({ customer, address, notice }: LinkPageProps) {
  const { id, name, link, mayHaveOne } = customer;
  return (
    <>
      <SetupTrail list={{ href: `/setup/customers/${id}`, name }} />
      <h1>{address ? `Send this address to ${name}: it is shown only now.` : headline(customer)}</h1>
      {notice && (
        <p class="notice" role="status">
          {notice}
        </p>
      )}
      {address && <FreshAddress address={address} />}
      <p>
        Whoever has the address sees this shop's products, prices and orders, and nothing else, and may send
        an order for it without signing in. What is sent becomes a draft that waits for your yes.
      </p>
      {link && <LinkFacts link={link} />}
      {mayHaveOne && <LinkForms id={id} isOpen={link !== null} />}
    </>
  );
}

function headline({ name, link, mayHaveOne }: LinkPageProps["customer"]): string {
  if (!mayHaveOne) return `${name} has no order page: only shops that order have one.`;
  return link ? `${name} can order by its own page.` : `${name} has no order page yet.`;
}

function FreshAddress({ address }: { readonly address: string }) {
  return (
    <div class="sheet">
      <label for="address">
        <strong>The address</strong>
      </label>
      <textarea id="address" class="link-address" rows={3} readonly>
        {address}
      </textarea>
      <p class="hint">Only its hash is kept: lost, it can be renewed but not shown again.</p>
      <p>
        <a href={address}>See the page as the shop does</a>
      </p>
    </div>
  );
}

function LinkFacts({ link }: { readonly link: NonNullable<LinkPageProps["customer"]["link"]> }) {
  const { workshop } = usePageContext();
  return (
    <p class="aside">
      Made on {dayWords(dateOf(link.madeAt, workshop?.timeZone ?? "UTC"), { year: true })} by {link.madeBy};{" "}
      {link.orders === 0 ? "no order" : counted(link.orders, "order")} came through it so far.
    </p>
  );
}

function LinkForms({ id, isOpen }: { readonly id: number; readonly isOpen: boolean }) {
  const base = `/setup/customers/${id}/order-page`;
  if (!isOpen)
    return (
      <Form action={base}>
        <button type="submit">Make its order page</button>
      </Form>
    );
  return (
    <>
      <details class="asks-first">
        <summary>Renew the address …</summary>
        <Form action={base}>
          <p>
            A new address is made and the old one closes at once: for when it came into wrong hands or was
            lost.
          </p>
          <button type="submit">Yes, renew it</button>
        </Form>
      </details>
      <details class="asks-first">
        <summary>Withdraw it …</summary>
        <Form action={`${base}/withdrawal`}>
          <p>The page closes at once. What was sent from it stays; you can make a new one at any time.</p>
          <button type="submit">Yes, close the page</button>
        </Form>
      </details>
    </>
  );
}
