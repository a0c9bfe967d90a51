import type { ComponentChildren } from "preact";
import { Form } from "../components/Form.tsx";

/** One big button that does one thing at once. With htmx the page's main part is renewed in place. */
export function TapForm({
  action,
  words,
  quiet = false,
  children,
}: {
  readonly action: string;
  readonly words: string;
  readonly quiet?: boolean;
  /** Hidden fields, where the action needs any. */
  readonly children?: ComponentChildren;
}) {
  return (
    <Form action={action} class="tap" {...{ "hx-post": action, "hx-target": "#main" }}>
      {children}
      <button type="submit" class={quiet ? "quiet" : undefined}>
        {words}
      </button>
    </Form>
  );
}
