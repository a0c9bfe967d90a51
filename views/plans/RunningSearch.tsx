/** Leads whoever comes back to the search that runs. */
export function RunningSearch() {
  return (
    <p class="notice">
      A plan is being looked for right now. <a href="/plan/search">See how far it is</a>
    </p>
  );
}
