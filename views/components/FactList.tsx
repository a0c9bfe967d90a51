import type { ComponentChildren } from "preact";

/** What is known of a thing, a name and words each; what is blank is left out. */
export function FactList({
  facts,
  children,
}: {
  readonly facts: readonly (readonly [name: string, words: string])[];
  /** More of the same, drawn by itself. */
  readonly children?: ComponentChildren;
}) {
  return (
    <dl class="facts">
      {facts
        .filter(([, words]) => words !== "")
        .map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class="as-typed">{words}</dd>
          </div>
        ))}
      {children}
    </dl>
  );
}
