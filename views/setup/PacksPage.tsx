import type { SupplyFacts, SupplyPack } from "../../server/supplies/ledgerQueries.ts";
import { ChoiceField, Field, FormMistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { moneyWords } from "../format/money.ts";
import { counted } from "../format/quantities.ts";
import { supplyUnitWords, writtenWords } from "../supplies/supplyWords.ts";
import { unitsFor } from "../supplies/units.ts";

interface PacksProps {
  readonly supply: SupplyFacts;
  readonly packs: readonly SupplyPack[];
  readonly suppliers: readonly { readonly id: number; readonly name: string }[];
  readonly currency: string;
  readonly answer: FormAnswer;
}

/** Who sells a supply, in what packs, at what price. */
export function PacksPage(props: PacksProps) {
  const { supply, packs, suppliers, currency } = props;
  return (
    <>
      <p class="trail">
        <a href={`/supplies/${supply.id}`}>{supply.name}</a>
      </p>
      <h1>
        {packs.length === 0
          ? `Nobody is known yet who sells ${supply.name}.`
          : `${supply.name} is sold in ${counted(packs.length, "pack")}.`}
      </h1>
      {packs.length > 0 && (
        <ul class="plain-list">
          {packs.map((pack) => (
            <PackRow key={pack.id} pack={pack} supplyId={supply.id} currency={currency} />
          ))}
        </ul>
      )}
      {suppliers.length === 0 ? (
        <p>
          First <a href="/setup/suppliers/new">add a supplier</a>.
        </p>
      ) : (
        <PackForm {...props} />
      )}
    </>
  );
}

function PackRow({
  pack,
  supplyId,
  currency,
}: {
  readonly pack: SupplyPack;
  readonly supplyId: number;
  readonly currency: string;
}) {
  const price = pack.priceMinor === null ? "price not known" : moneyWords(pack.priceMinor, currency);
  return (
    <li>
      <span class="row">
        <span>
          <strong>{writtenWords(pack.thousandths, pack.unit)}</strong> from{" "}
          <a href={`/setup/suppliers/${pack.supplierId}`}>{pack.supplier}</a>, {price}
          {pack.leastPacks > 1 && `, at least ${pack.leastPacks} packs`}
          {pack.code !== "" && <span class="aside"> {pack.code}</span>}
        </span>
        <span class="inline">
          {pack.usual ? (
            <StateMark words="bought as a rule" />
          ) : (
            <Form action={`/setup/supplies/${supplyId}/packs/usual`}>
              <input type="hidden" name="pack" value={String(pack.id)} />
              <button type="submit" class="quiet">
                Buy this one
              </button>
            </Form>
          )}
          <Form action={`/setup/supplies/${supplyId}/packs/retirement`}>
            <input type="hidden" name="pack" value={String(pack.id)} />
            <button type="submit" class="quiet">
              Not sold like that any more
            </button>
          </Form>
        </span>
      </span>
    </li>
  );
}

function PackForm({ supply, suppliers, currency, answer }: PacksProps) {
  const units = unitsFor(supply.kind, supply.densityGramsPerLitre !== null);
  return (
    <Form action={`/setup/supplies/${supply.id}/packs`} class="sheet">
      <h2>A pack, or the same at another price</h2>
      <FormMistake answer={answer} />
      <div class="fields">
        <ChoiceField
          name="supplier"
          label="Supplier"
          blank="Choose one"
          choices={suppliers.map(({ id, name }) => ({ value: String(id), label: name }))}
          answer={answer}
        />
        <Field
          name="content"
          label="What is in a pack"
          inputMode="decimal"
          autocomplete="off"
          maxLength={14}
          answer={answer}
        />
        <ChoiceField
          name="unit"
          label="Of what"
          choices={units.map((unit) => ({ value: unit, label: supplyUnitWords(unit) }))}
          answer={answer}
        />
        <Field
          name="price"
          label={`Price of a pack, ${currency}`}
          hint="Without tax. Blank: not known."
          inputMode="decimal"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="leastPacks"
          label="At least so many packs"
          hint="Blank: one."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="code"
          label="What the supplier calls it"
          hint="May stay empty."
          maxLength={80}
          answer={answer}
        />
      </div>
      <TickField name="usual" label="This is the one to buy as a rule" answer={answer} />
      <button type="submit">Add the pack</button>
    </Form>
  );
}
