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

/** Asks before it shuts somebody out. */
function Goodbye({ person }: { readonly person: PersonRow }) {
  return (
    <details class="asks-first">
      <summary>{person.name} has left …</summary>
      <p>
        From then on {person.name} can't sign in, and is signed out wherever signed in now. What {person.name}{" "}
        did stays written down.
      </p>
      <Form action={`/setup/people/${person.id}/goodbye`}>
        <button type="submit">Yes, {person.name} has left</button>
      </Form>
    </details>
  );
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
            <span class="person">
              <strong>{person.name}</strong> {person.email}
            </span>
            {person.role === "owner" ? <span class="aside">owner</span> : <Goodbye person={person} />}
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
        <button type="submit">Let this helper in</button>
      </Form>
    </>
  );
}
