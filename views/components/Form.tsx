import type { ComponentChildren, JSX } from "preact";
import { usePageContext } from "../layout/pageContext.ts";

type FormProps = Omit<JSX.IntrinsicElements["form"], "action" | "method" | "children"> & {
  readonly action: string;
  readonly children: ComponentChildren;
};

/**
 * A form that changes something. It carries the token that proves it is ours and a number of its own, so that
 * sending it twice acts once. Forms that only look something up are plain `<form method="get">`.
 */
export function Form({ action, children, ...attributes }: FormProps) {
  const { csrfToken } = usePageContext();
  return (
    <form action={action} method="post" {...attributes}>
      <input type="hidden" name="_csrf" value={csrfToken} />
      <input type="hidden" name="form_token" value={crypto.randomUUID()} />
      {children}
    </form>
  );
}
