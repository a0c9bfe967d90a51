/**
 * The usual caution. The United States' fifteen business days for reports of serious adverse events: 21 USC 364a,
 * known from a secondary text.
 */
export function LocalRules() {
  return (
    <p class="caution">
      Local rules on recalls, and on reporting when somebody was harmed, come first: whom to tell beside your
      customers, in what words and by when (in the United States a serious adverse event within 15 business
      days, 21 USC 364a). Ask your authority or adviser now rather than later. This page keeps track; it is no
      advice.
    </p>
  );
}
