import type { ComponentChildren } from "preact";

/**
 * A part of a page that is seldom needed, folded away behind its name and what stands in it. Without JavaScript too;
 * what is folded is sent with its form all the same.
 */
export function Fold({
  name,
  holds,
  open,
  children,
}: {
  readonly name: string;
  /** What stands in it, in a few words. */
  readonly holds?: string;
  readonly open: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <details class="fold" open={open}>
      <summary>
        <span class="fold-name">{name}</span>
        {holds && <span class="fold-holds">{holds}</span>}
      </summary>
      {children}
    </details>
  );
}
