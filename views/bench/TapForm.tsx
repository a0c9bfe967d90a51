import type { ComponentChildren } from "preact";
import { Form } from "../components/Form.tsx";

/**
 * One big button that does one thing at once. With htmx the page's main part is renewed in place; what carries the
 * button's id after that takes its focus over.
 */
export function TapForm({
  action,
  words,
  quiet = false,
  id,
  children,
}: {
  readonly action: string;
  readonly words: string;
  readonly quiet?: boolean;
  /** Of the button. */
  readonly id?: string;
  /** Hidden fields, where the action needs any. */
  readonly children?: ComponentChildren;
}) {
  return (
    <Form action={action} class="tap" {...{ "hx-post": action, "hx-target": "#main" }}>
      {children}
      <button type="submit" id={id} class={quiet ? "quiet" : undefined}>
        {words}
      </button>
    </Form>
  );
}
