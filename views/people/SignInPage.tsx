import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";

export function SignInPage({ answer }: { readonly answer: FormAnswer }) {
  return (
    <section class="narrow">
      <h1>Sign in</h1>
      <Form action="/sign-in">
        <FormMistake answer={answer} />
        <input type="hidden" name="next" value={typedText(answer, "next")} />
        <Field
          name="email"
          label="E-mail address"
          type="email"
          answer={answer}
          autocomplete="username"
          required
        />
        <Field
          name="password"
          label="Password"
          type="password"
          answer={answer}
          autocomplete="current-password"
          required
        />
        <button type="submit">Sign in</button>
      </Form>
    </section>
  );
}
