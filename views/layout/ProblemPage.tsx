import { usePageContext } from "./pageContext.ts";

/** What went wrong, in one sentence, and the way back. */
export function ProblemPage({ status, sentence }: { readonly status: number; readonly sentence: string }) {
  const { bare } = usePageContext();
  return (
    <section>
      <h1>{sentence}</h1>
      {!bare && (
        <p>
          <a href="/">To the week</a>
        </p>
      )}
      <p class="aside">Answer {status}</p>
    </section>
  );
}
