import { ChoiceField, Field, FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { typedList } from "../components/formAnswer.ts";
import type { SupplyPageProps } from "./SupplyPage.tsx";
import { countedWords, countUnitWords, lossWords } from "./supplyWords.ts";

/** What is really there of every lot; the ledger is brought to it by moves of the difference. */
export function CountSupplyForm({ supply, lots, count: answer }: SupplyPageProps) {
  const rows = [...lots.held, ...lots.usedUp];
  const typed = typedList(answer, "countedAmount");
  return (
    <Form action={`/supplies/${supply.id}/count`} class="sheet">
      <h2>Count it</h2>
      <FormMistake answer={answer} />
      <input type="hidden" name="lastMove" value={String(supply.lastMove)} />
      <p class="hint">
        In {countUnitWords(supply.kind)}, every lot at once, 0 for none. What the ledger had otherwise is
        written down as the difference.
      </p>
      <Mistake name="counts" answer={answer} />
      {rows.map((lot, place) => {
        const name = `counts.${place}`;
        const wrong = answer.mistakes[name] !== undefined;
        return (
          <div class="field" key={lot.lotId}>
            <label for={name}>
              <span class="lot-code">{lot.code}</span>{" "}
              {lot.amount === 0 ? "used up" : countedWords(supply.kind, lot.amount)}
              <span class="aside"> in the ledger</span>
            </label>
            <input type="hidden" name="countedLot" value={String(lot.lotId)} />
            <input
              id={name}
              name="countedAmount"
              inputMode="decimal"
              autocomplete="off"
              maxLength={14}
              value={typed[place] ?? ""}
              aria-invalid={wrong ? "true" : undefined}
              aria-describedby={wrong ? `${name}-mistake` : undefined}
            />
            <Mistake name={name} answer={answer} />
          </div>
        );
      })}
      <Field name="countNote" label="Note" hint="May stay empty." maxLength={200} answer={answer} />
      <button type="submit">Write the count down</button>
    </Form>
  );
}

/** What was spilled, spoiled or thrown away. */
export function LoseSupplyForm({ supply, lots, loss: answer }: SupplyPageProps) {
  return (
    <Form action={`/supplies/${supply.id}/loss`} class="sheet">
      <h2>Some is lost</h2>
      <FormMistake answer={answer} />
      <ChoiceField
        name="lostLot"
        label="Of which lot"
        answer={answer}
        {...(lots.held.length > 1 && { blank: "Choose" })}
        choices={lots.held.map(({ lotId, code, amount }) => ({
          value: String(lotId),
          label: `${code}, ${countedWords(supply.kind, amount)}`,
        }))}
      />
      <Field
        name="lostAmount"
        label={`How much, ${countUnitWords(supply.kind)}`}
        inputMode="decimal"
        autocomplete="off"
        maxLength={14}
        answer={answer}
      />
      <ChoiceField
        name="cause"
        label="What became of it"
        blank="Choose"
        choices={Object.entries(lossWords).map(([value, label]) => ({ value, label }))}
        answer={answer}
      />
      <Field name="lossNote" label="Note" hint="May stay empty." maxLength={200} answer={answer} />
      <button type="submit">Take it off</button>
    </Form>
  );
}
