/** What a change of the workshop means for what has already begun. */
export function NextPlan() {
  return (
    <p class="aside">
      What you change here counts from the next plan on. What is being mixed, drying or packed already keeps
      its own times and places.
    </p>
  );
}
