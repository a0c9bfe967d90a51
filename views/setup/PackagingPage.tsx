import { ChoiceField, Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted } from "../format/quantities.ts";
import { packagingWords } from "../supplies/supplyWords.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { StockFields } from "./StockFields.tsx";
import { SupplyLinks } from "./SupplyLinks.tsx";

interface KnownPackaging {
  readonly id: number;
  readonly name: string;
  readonly products: number;
  readonly retiredAt: Date | null;
}

/** Something to pack with to change, or a new one where none is given. */
export function PackagingPage({
  packaging,
  answer,
}: {
  readonly packaging: KnownPackaging | null;
  readonly answer: FormAnswer;
}) {
  const action = packaging ? `/setup/packaging/${packaging.id}` : "/setup/packaging";
  return (
    <>
      <SetupTrail list={{ href: "/setup/packaging", name: "Packaging" }} />
      <h1>
        {packaging
          ? `${packaging.name} stands on the packing list of ${counted(packaging.products, "product")}.`
          : "New packaging: what is it, and how is it bought?"}
      </h1>
      <Form action={action}>
        <FormMistake answer={answer} />
        <div class="fields even">
          <Field name="name" label="Name" answer={answer} maxLength={120} required />
          <ChoiceField
            name="kind"
            label="What it is to the packing"
            answer={answer}
            blank="Choose one"
            choices={Object.entries(packagingWords).map(([value, label]) => ({ value, label }))}
          />
        </div>
        <LongField
          name="statement"
          label="What is good to know of it"
          hint="Size, what fits into it, which sheet the labels are on."
          answer={answer}
        />
        <StockFields unit="pieces" answer={answer} />
        <div class="actions">
          <button type="submit">{packaging ? "Keep this" : "Add it"}</button>
        </div>
      </Form>
      {packaging && <SupplyLinks supplyId={packaging.id} />}
      {packaging && (
        <Retirement
          action={action}
          name={packaging.name}
          retired={packaging.retiredAt !== null}
          meaning="It is not bought any more; packing lists that have it go on using it up."
        />
      )}
    </>
  );
}
