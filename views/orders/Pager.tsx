export interface PagerProps {
  readonly total: number;
  /** The first row shown, counted from 1. */
  readonly firstShown: number;
  /** Null where there is no earlier or later page. */
  readonly earlier: string | null;
  readonly later: string | null;
}

/** The way to the pages before and after, where there are any. */
export function Pager({ earlier, later }: PagerProps) {
  if (earlier === null && later === null) return null;
  return (
    <nav class="actions" aria-label="Pages">
      {earlier !== null && (
        <a class="button quiet" href={earlier} rel="prev">
          Back
        </a>
      )}
      {later !== null && (
        <a class="button quiet" href={later} rel="next">
          Further
        </a>
      )}
    </nav>
  );
}
