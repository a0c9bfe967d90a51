import type { ComponentChildren, ComponentType } from "preact";
import { counted } from "../format/quantities.ts";
import { SetupTrail } from "./SetupTrail.tsx";

interface Retirable {
  readonly retiredAt: Date | null;
}

interface SetupListProps<Row extends Retirable> {
  /** The page's sentence. */
  readonly sentence: string;
  readonly rows: readonly Row[];
  /** "shape", "blend", "customer". */
  readonly noun: string;
  /** Where another one is added. */
  readonly addHref: string;
  /** On its button, where "Add a shape" would read wrongly. */
  readonly addWords?: string;
  readonly Table: ComponentType<{ readonly rows: readonly Row[] }>;
  /** Whether the retired ones are in sight at once. */
  readonly showRetired?: boolean;
  /** What stands between the button and the table. */
  readonly children?: ComponentChildren;
}

/** Rows that are kept in the setup: those in use in sight, the retired ones folded away. */
export function SetupList<Row extends Retirable>(props: SetupListProps<Row>) {
  const { sentence, rows, noun, addHref, addWords, Table, showRetired = false, children } = props;
  const inUse = rows.filter((row) => row.retiredAt === null);
  const retired = rows.filter((row) => row.retiredAt !== null);
  return (
    <>
      <SetupTrail />
      <h1>{sentence}</h1>
      <p class="actions">
        <a class="button" href={addHref}>
          {addWords ?? `Add ${/^[aeiou]/.test(noun) ? "an" : "a"} ${noun}`}
        </a>
      </p>
      {children}
      {inUse.length > 0 && <Table rows={inUse} />}
      {retired.length > 0 && (
        <details open={showRetired}>
          <summary>{counted(retired.length, `retired ${noun}`)}</summary>
          <Table rows={retired} />
        </details>
      )}
    </>
  );
}
