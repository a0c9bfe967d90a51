import { Form } from "../components/Form.tsx";
import { counted } from "../format/quantities.ts";

export interface RememberedName {
  readonly id: number;
  readonly what: "customer" | "product";
  readonly written: string;
  /** The customer or product; null: lines with it are left out. */
  readonly means: string | null;
  readonly decidedBy: string;
}

/** What names in files were said to mean, each of which can be forgotten. */
export function RememberedNamesPage({ names }: { readonly names: readonly RememberedName[] }) {
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a> <a href="/orders/import">From a file</a>
      </p>
      <h1>
        {names.length === 0
          ? "No names are remembered: every name in a file is asked about that is not known here."
          : `What ${counted(names.length, "name")} in files ${names.length === 1 ? "means" : "mean"} is remembered.`}
      </h1>
      {names.length > 0 && (
        <table class="stack">
          <thead>
            <tr>
              <th scope="col">In the file</th>
              <th scope="col">Means</th>
              <th scope="col">Said by</th>
              <th scope="col">Ask again</th>
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <NameRow key={name.id} name={name} />
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}

function NameRow({ name: { id, what, written, means, decidedBy } }: { readonly name: RememberedName }) {
  return (
    <tr>
      <th scope="row">
        “{written}”, a {what}
      </th>
      <td data-label="Means">{means ?? "its lines are left out"}</td>
      <td data-label="Said by">{decidedBy}</td>
      <td>
        <Form action={`/orders/import/names/${id}/forgetting`}>
          <button type="submit" class="quiet">
            Forget “{written}”
          </button>
        </Form>
      </td>
    </tr>
  );
}
