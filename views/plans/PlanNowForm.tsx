import { Form } from "../components/Form.tsx";

/** Asks for a plan. It takes a few seconds: with htmx the page says so, without it the browser waits. */
export function PlanNowForm({ words, quiet = false }: { readonly words: string; readonly quiet?: boolean }) {
  return (
    <Form
      action="/plans"
      class="actions"
      hx-post="/plans"
      hx-target="#main"
      hx-disable="find button"
      hx-indicator="find .htmx-indicator"
    >
      <button type="submit" class={quiet ? "quiet" : undefined}>
        {words}
      </button>
      <span class="htmx-indicator" role="status">
        Planning… this takes a few seconds.
      </span>
    </Form>
  );
}
