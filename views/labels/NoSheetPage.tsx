import { usePageContext } from "../layout/pageContext.ts";

/** There is nothing yet to print labels on. */
export function NoSheetPage() {
  const { person } = usePageContext();
  return (
    <>
      <p class="trail">
        <a href="/labels">Labels</a>
      </p>
      <h1>There is no sheet of labels yet to print on.</h1>
      {person?.role === "owner" ? (
        <p class="actions">
          <a class="button" href="/setup/labels">
            Say what sheets you have
          </a>
        </p>
      ) : (
        <p>The owner says in the setup what sheets there are.</p>
      )}
    </>
  );
}
