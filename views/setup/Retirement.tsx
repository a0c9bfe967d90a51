import { Form } from "../components/Form.tsx";

/** Putting a thing away without losing it, behind a question; or bringing it back. */
export function Retirement({
  action,
  name,
  retired,
  meaning,
}: {
  /** The thing's own address. */
  readonly action: string;
  readonly name: string;
  readonly retired: boolean;
  /** What retiring it does, in a sentence. */
  readonly meaning: string;
}) {
  if (retired) {
    return (
      <Form action={`${action}/return`} class="notice">
        <p>
          <strong>{name}</strong> is retired. It stays readable wherever it was used.
        </p>
        <button type="submit" class="quiet">
          Bring it back
        </button>
      </Form>
    );
  }
  return (
    <details class="retirement">
      <summary>Retire {name}</summary>
      <Form action={`${action}/retirement`}>
        <p>{meaning} You can bring it back at any time.</p>
        <button type="submit">Retire {name}</button>
      </Form>
    </details>
  );
}
