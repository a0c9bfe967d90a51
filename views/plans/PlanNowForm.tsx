import { Form } from "../components/Form.tsx";

/** Asks for a plan. With htmx the page of the search follows at once; without it the browser waits for the plan. */
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
        One moment…
      </span>
    </Form>
  );
}
