/** What went wrong, in one sentence, and the way back. */
export function ProblemPage({ status, sentence }: { readonly status: number; readonly sentence: string }) {
  return (
    <section>
      <h1>{sentence}</h1>
      <p>
        <a href="/">To the week</a>
      </p>
      <p class="aside">Answer {status}</p>
    </section>
  );
}
