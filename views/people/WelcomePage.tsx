import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";

/** The first visit: the owner makes the first account. */
export function WelcomePage({ answer }: { readonly answer: FormAnswer }) {
  return (
    <section class="narrow">
      <h1>Welcome. Whose workshop is this?</h1>
      <p>
        The first account is the owner's. Helpers can be let in later; nobody sees anything without signing
        in.
      </p>
      <Form action="/welcome">
        <FormMistake answer={answer} />
        <NewPersonFields answer={answer} />
        <button type="submit">Make the owner's account</button>
      </Form>
    </section>
  );
}

export function NewPersonFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <Field name="name" label="Name" answer={answer} autocomplete="name" maxLength={80} required />
      <Field name="email" label="E-mail address" type="email" answer={answer} autocomplete="email" required />
      <Field
        name="password"
        label="Password"
        hint="At least 8 characters. A few words in a row are best."
        type="password"
        answer={answer}
        autocomplete="new-password"
        minLength={8}
        required
      />
    </>
  );
}
