import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { currencyWords, taxRateWords } from "../format/money.ts";
import { RadioChoice } from "./RadioChoice.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface MoneyPageProps {
  readonly settings: { readonly currency: string; readonly rounding: "line" | "order" };
  /** True once there is an amount in the currency. */
  readonly currencyIsFixed: boolean;
  readonly currencies: readonly string[];
  readonly taxGroups: readonly {
    readonly id: number;
    readonly name: string;
    readonly ratePpm: number | null;
    readonly retiredAt: Date | null;
  }[];
  readonly answer: FormAnswer;
}

/** In what money, how it is rounded and taxed, and what a leftover costs. */
export function MoneyPage(props: MoneyPageProps) {
  const { settings, answer } = props;
  return (
    <>
      <SetupTrail />
      <h1>
        Money is counted in {currencyWords(settings.currency)} and rounded{" "}
        {settings.rounding === "line" ? "line by line" : "order by order"}, a half upwards.
      </h1>
      <p class="actions">
        <a class="button quiet" href="/setup/prices">
          Price lists
        </a>
        <a class="button quiet" href="/setup/taxes">
          Tax
        </a>
        <a class="button quiet" href="/setup/costs">
          Making costs
        </a>
      </p>
      <Form action="/setup/money">
        <FormMistake answer={answer} />
        <MoneyChoices {...props} />
        <RoundingChoice answer={answer} />
        <LeftoverFields answer={answer} />
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
    </>
  );
}

function MoneyChoices({ settings, currencyIsFixed, currencies, taxGroups, answer }: MoneyPageProps) {
  const offered = currencyIsFixed ? [settings.currency] : currencies;
  return (
    <div class="fields even">
      <ChoiceField
        name="currency"
        label="Currency"
        hint={
          currencyIsFixed
            ? "There are amounts in it, so it stays."
            : "Of everything here. It stays once there is an amount."
        }
        answer={answer}
        choices={offered.map((code) => ({ value: code, label: currencyWords(code) }))}
      />
      <ChoiceField
        name="usualTaxGroup"
        label="Usual tax group"
        hint="Of customers who were given none. What applies is for you and your adviser to settle."
        answer={answer}
        blank="none: no tax"
        choices={taxGroups
          .filter(({ retiredAt }) => retiredAt === null)
          .map(({ id, name, ratePpm }) => ({
            value: String(id),
            label: ratePpm === null ? name : `${name}, ${taxRateWords(ratePpm)}`,
          }))}
      />
    </div>
  );
}

function RoundingChoice({ answer }: { readonly answer: FormAnswer }) {
  return (
    <RadioChoice
      name="rounding"
      legend="Rounding"
      answer={answer}
      options={[
        {
          value: "line",
          label: "line by line",
          meaning: "Each line's amount and tax are rounded; the order is their sum.",
        },
        {
          value: "order",
          label: "order by order",
          meaning: "Only the order's sums are rounded; the lines share what that makes.",
        },
      ]}
    />
  );
}

function LeftoverFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>For markets</legend>
      <div class="fields even">
        <Field
          name="makingCost"
          label="Making a piece costs, per cent"
          hint="Of its usual retail price without tax, where its own cost is not known."
          inputMode="decimal"
          answer={answer}
          required
        />
        <Field
          name="leftoverLoss"
          label="A leftover has lost, per cent"
          hint="Of what making it cost: the way there and back, knocks, a shorter life."
          inputMode="decimal"
          answer={answer}
          required
        />
      </div>
    </fieldset>
  );
}
