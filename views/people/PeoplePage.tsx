import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { NewPersonFields } from "./WelcomePage.tsx";

interface PersonRow {
  readonly id: number;
  readonly name: string;
  readonly email: string;
  readonly role: "owner" | "helper";
  readonly leftAt: Date | null;
}

/** Who may sign in, and letting a helper in. */
export function PeoplePage({
  people,
  answer,
}: {
  readonly people: readonly PersonRow[];
  readonly answer: FormAnswer;
}) {
  const here = people.filter((person) => person.leftAt === null);
  return (
    <>
      <p class="trail">
        <a href="/setup">Setup</a>
      </p>
      <h1>{here.length === 1 ? "You work alone so far." : `${here.length} people can sign in.`}</h1>
      <ul class="plain-list">
        {here.map((person) => (
          <li key={person.id} class="row">
            <span>
              <strong>{person.name}</strong> {person.email}
            </span>
            {person.role === "owner" ? (
              <span class="aside">owner</span>
            ) : (
              <Form action={`/setup/people/${person.id}/goodbye`} class="inline">
                <button type="submit" class="quiet">
                  {person.name} has left
                </button>
              </Form>
            )}
          </li>
        ))}
      </ul>
      <h2>Let a helper in</h2>
      <p>
        A helper works at bench, shelf, packing and delivery, and sees neither prices nor setup nor people.
      </p>
      <Form action="/setup/people" class="narrow">
        <FormMistake answer={answer} />
        <NewPersonFields answer={answer} />
        <button type="submit">Let in</button>
      </Form>
    </>
  );
}
