/** Stands on every page about labels. */
export function NoAdvice() {
  return (
    <p class="caution">
      This is a help, not legal advice. Local rules and qualified advice come first; what a label says is for
      you to answer for.
    </p>
  );
}
