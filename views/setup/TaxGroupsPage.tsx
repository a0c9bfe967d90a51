import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { taxRateWords } from "../format/money.ts";
import { counted, wholeWords } from "../format/quantities.ts";
import { SetupTrail } from "./SetupTrail.tsx";

interface GroupRow {
  readonly id: number;
  readonly name: string;
  /** The rate of today, in parts per million; null before the first. */
  readonly ratePpm: number | null;
  readonly usual: boolean;
  /** Customers it is charged to. */
  readonly customers: number;
  readonly retiredAt: Date | null;
}

/** Customers who are taxed alike, and a new group. */
export function TaxGroupsPage({
  groups,
  answer,
}: {
  readonly groups: readonly GroupRow[];
  readonly answer: FormAnswer;
}) {
  const inUse = groups.filter(({ retiredAt }) => retiredAt === null);
  return (
    <>
      <SetupTrail list={{ href: "/setup/money", name: "Money" }} />
      <h1>{groupsSentence(inUse)}</h1>
      {groups.length > 0 && <GroupsTable groups={groups} />}
      <Form action="/setup/taxes">
        <fieldset>
          <legend>A new group</legend>
          <p class="hint">
            Customers who are taxed alike, such as shops at home or shops abroad. What law asks of you is for
            you and your adviser to settle.
          </p>
          <FormMistake answer={answer} />
          <div class="fields even">
            <Field name="name" label="Name" answer={answer} maxLength={80} autocomplete="off" required />
            <RateFields answer={answer} />
          </div>
        </fieldset>
        <div class="actions">
          <button type="submit">Add the group</button>
        </div>
      </Form>
    </>
  );
}

export function RateFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <Field
        name="rate"
        label="Rate, per cent"
        inputMode="decimal"
        autocomplete="off"
        answer={answer}
        required
      />
      <Field name="validFrom" label="Valid from" type="date" answer={answer} required />
    </>
  );
}

function groupsSentence(groups: readonly GroupRow[]): string {
  if (groups.length === 0) return "No tax is charged: there is no tax group yet.";
  const usual = groups.find((group) => group.usual);
  if (!usual) return `${counted(groups.length, "tax group")}, none of them the usual one.`;
  return usual.ratePpm === null
    ? `Usually no tax is charged yet: “${usual.name}” has no rate today.`
    : `Usually ${taxRateWords(usual.ratePpm)} is charged, as for “${usual.name}”.`;
}

function rateOf({ ratePpm }: GroupRow): string {
  return ratePpm === null ? "no rate yet" : taxRateWords(ratePpm);
}

function GroupsTable({ groups }: { readonly groups: readonly GroupRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Group</th>
          <th scope="col" class="number">
            Rate today
          </th>
          <th scope="col" class="number">
            Customers
          </th>
        </tr>
      </thead>
      <tbody>
        {groups.map((group) => (
          <tr key={group.id}>
            <th scope="row">
              <a href={`/setup/taxes/${group.id}`}>{group.name}</a>{" "}
              {group.usual && <span class="aside">the usual one</span>}
              {group.retiredAt && <span class="aside">retired</span>}
            </th>
            <td data-label="Rate today" class="number">
              {rateOf(group)}
            </td>
            <td data-label="Customers" class="number">
              {wholeWords(group.customers)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
