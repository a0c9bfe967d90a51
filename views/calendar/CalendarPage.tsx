import { Form } from "../components/Form.tsx";
import { dateOf, dayWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { SetupTrail } from "../setup/SetupTrail.tsx";

interface CalendarPageProps {
  /** The open address; null: there is none. */
  readonly feed: { readonly madeAt: Date; readonly madeBy: string } | null;
  /** The whole address, only in the answer that made it. */
  readonly address: string | null;
  /** What was done before with the same form. */
  readonly notice: string | null;
}

/** The workshop's dates in the calendars of phones, as the owner opens and closes them. */
export function CalendarPage({ feed, address, notice }: CalendarPageProps) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <>
      <SetupTrail />
      <h1>{headline(feed !== null, address !== null)}</h1>
      {notice && (
        <p class="notice" role="status">
          {notice}
        </p>
      )}
      {address && <FreshAddress address={address} />}
      <p>
        Mixing sessions, turnings and ship-by dates, as the followed plan has them. Give the address to a
        calendar that subscribes to addresses; it asks again by itself. Whoever has it sees these dates, with
        blends and customers, and nothing else.
      </p>
      {feed && (
        <p class="aside">
          Made on {dayWords(dateOf(feed.madeAt, timeZone), { year: true })} by {feed.madeBy}.
        </p>
      )}
      {feed ? <OpenForms /> : <MakeForm words="Make the address" />}
    </>
  );
}

function headline(isOpen: boolean, isFresh: boolean): string {
  if (isFresh) return "Give this address to your calendar: it is shown only now.";
  return isOpen ? "The workshop's dates can be seen by its calendar's address." : "There is no calendar yet.";
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
    </div>
  );
}

function MakeForm({ words }: { readonly words: string }) {
  return (
    <Form action="/setup/calendar">
      <button type="submit">{words}</button>
    </Form>
  );
}

function OpenForms() {
  return (
    <>
      <details class="asks-first">
        <summary>Renew the address …</summary>
        <p>
          A new address is made and the old one closes at once: for when it came into wrong hands or was lost.
        </p>
        <MakeForm words="Yes, renew it" />
      </details>
      <details class="asks-first">
        <summary>Withdraw it …</summary>
        <Form action="/setup/calendar/withdrawal">
          <p>The calendar closes at once. You can make a new address at any time.</p>
          <button type="submit">Yes, close it</button>
        </Form>
      </details>
    </>
  );
}
