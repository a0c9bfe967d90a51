import type { SupplyUnit } from "../../server/supplies/amounts.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { Form } from "../components/Form.tsx";
import { hasMistakeIn } from "../components/formAnswer.ts";
import { purchaseWords, type SupplyPageProps } from "./SupplyPage.tsx";
import { supplyUnitWords, writtenWords } from "./supplyWords.ts";
import { unitsFor } from "./units.ts";

/** What the names of the fields are; a mistake in any opens the fold. */
const FIELDS = [
  "quantity",
  "unit",
  "supplier",
  "supplierLot",
  "price",
  "receivedOn",
  "expiresOn",
  "purchase",
];

/** A delivery that has come. */
export function ReceiveForm(props: SupplyPageProps) {
  const { supply, lots, receipt: answer } = props;
  const isAsked = Object.keys(answer.typed).includes("purchase") && answer.typed.purchase !== "";
  const open = lots.held.length === 0 || isAsked || hasMistakeIn(answer, FIELDS) || "" in answer.mistakes;
  return (
    <Fold name="Receive a delivery" open={open}>
      <Form action={`/supplies/${supply.id}/receipts`}>
        <FormMistake answer={answer} />
        <QuantityFields {...props} />
        <WhereFrom {...props} />
        <div class="actions">
          <button type="submit">Enter it as a new lot</button>
        </div>
      </Form>
    </Fold>
  );
}

function QuantityFields({ supply, packs, receipt: answer, currency }: SupplyPageProps) {
  const units: readonly SupplyUnit[] = unitsFor(supply.kind, supply.densityGramsPerLitre !== null);
  return (
    <div class="fields">
      <Field
        name="quantity"
        label="How much came"
        inputMode="decimal"
        autocomplete="off"
        maxLength={14}
        answer={answer}
      />
      <ChoiceField
        name="unit"
        label="Of what"
        answer={answer}
        choices={[
          ...packs.map((pack) => ({
            value: `pack-${pack.id}`,
            label: `${pack.supplier}: packs of ${writtenWords(pack.thousandths, pack.unit)}`,
          })),
          ...units.map((unit) => ({ value: unit, label: supplyUnitWords(unit) })),
        ]}
      />
      {currency !== null && (
        <Field
          name="price"
          label={`What all of it cost, ${currency}`}
          hint="Without tax. Blank: not known."
          inputMode="decimal"
          autocomplete="off"
          answer={answer}
        />
      )}
      <Field
        name="expiresOn"
        label="Last good day"
        hint="Blank: it does not expire."
        type="date"
        answer={answer}
      />
    </div>
  );
}

function WhereFrom({ suppliers, purchases, receipt: answer }: SupplyPageProps) {
  return (
    <div class="fields">
      <ChoiceField
        name="supplier"
        label="Supplier"
        blank="not known, or as its pack says"
        choices={suppliers.map(({ id, name }) => ({ value: String(id), label: name }))}
        answer={answer}
      />
      <Field
        name="supplierLot"
        label="Supplier's lot"
        hint="As printed on the bag: a recall asks for it."
        maxLength={80}
        autocomplete="off"
        answer={answer}
      />
      <Field name="receivedOn" label="It came on" type="date" answer={answer} />
      {purchases.length > 0 && (
        <ChoiceField
          name="purchase"
          label="Is it what was ordered?"
          blank="no, something else"
          choices={purchases.map((purchase) => ({
            value: String(purchase.id),
            label: purchaseWords(purchase),
          }))}
          answer={answer}
        />
      )}
    </div>
  );
}
