import type { CorrectableLot, LotCorrection } from "../../server/supplies/lotCorrections.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { momentWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";

interface CorrectLotProps {
  readonly lot: CorrectableLot;
  readonly corrections: readonly LotCorrection[];
  readonly currency: string;
  /** The day and the price as they stand, as the form says them back. */
  readonly seen: { readonly expiresOn: string; readonly price: string };
  readonly answer: FormAnswer;
  readonly timeZone: string;
}

/** Putting right until when a lot of a supply is good and what it cost, and what was put right before. */
export function CorrectLotPage({ lot, corrections, currency, seen, answer, timeZone }: CorrectLotProps) {
  return (
    <>
      <p class="trail">
        <a href={`/supplies/${lot.supplyId}`}>{lot.supply}</a>
        {" · "}
        <a href={`/trace/supply-lots/${lot.id}`}>Trace of {lot.code}</a>
      </p>
      <h1>
        What is wrong with the last good day or the price of {lot.code}, {lot.supply}?
      </h1>
      <p>
        The day counts from now on: what is used first, what is never taken unasked, what to buy. What was
        taken before stays as it is booked; a batch that was weighed out past a day corrected now is yours to
        judge, its trace names it.
      </p>
      <p>
        No cost of a batch is kept: what a piece costs is reckoned from the prices as they stand, so it
        follows at once, for pieces made earlier too. Orders, invoices and price lists stay as they are.
      </p>
      <Form action={`/supplies/lots/${lot.id}/correction`} class="narrow">
        <FormMistake answer={answer} />
        <input type="hidden" name="seenExpiresOn" value={seen.expiresOn} />
        <input type="hidden" name="seenPrice" value={seen.price} />
        <input type="hidden" name="currency" value={currency} />
        <Field
          name="expiresOn"
          label="Last good day"
          hint={`It came on ${shortDayWords(lot.receivedOn)}. Blank: it does not expire.`}
          type="date"
          answer={answer}
        />
        <Field
          name="price"
          label={`What all of it cost, ${currency}`}
          hint="Without tax. Blank: not known."
          inputMode="decimal"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="why"
          label="Why"
          hint="In a few words: what was misread, what the supplier said."
          maxLength={200}
          answer={answer}
        />
        <button type="submit">Put it right</button>
      </Form>
      <Corrections corrections={corrections} timeZone={timeZone} />
    </>
  );
}

function Corrections({ corrections, timeZone }: Pick<CorrectLotProps, "corrections" | "timeZone">) {
  if (corrections.length === 0) return null;
  return (
    <section>
      <h2>What was put right</h2>
      <ul class="plain-list narrow">
        {corrections.map((correction) => (
          <li key={correction.id}>
            {correctionWords(correction)}: {correction.why}
            <span class="under">
              {momentWords(correction.at, timeZone)}, {correction.person ?? "nobody who was noted"}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** "last good day Fri 31 Dec 2027 → none; price 12.00 € → 14.00 €" */
function correctionWords({ before, after, currency }: LotCorrection): string {
  const day = (date: string | null) => (date === null ? "none" : shortDayWords(date));
  const price = (minor: number | null) => (minor === null ? "not known" : moneyWords(minor, currency));
  return [
    ...(before.expiresOn === after.expiresOn
      ? []
      : [`last good day ${day(before.expiresOn)} → ${day(after.expiresOn)}`]),
    ...(before.priceMinor === after.priceMinor
      ? []
      : [`price ${price(before.priceMinor)} → ${price(after.priceMinor)}`]),
  ].join("; ");
}
