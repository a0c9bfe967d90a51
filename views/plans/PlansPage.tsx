import { StateMark } from "../components/StateMark.tsx";
import { momentWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { PlanNowForm } from "./PlanNowForm.tsx";
import { pieceDays, stateWords } from "./planWords.ts";
import { RunningSearch } from "./RunningSearch.tsx";

interface PlanRow {
  readonly planId: number;
  readonly state: "proposed" | "accepted" | "superseded";
  readonly plannedAt: Date;
  readonly plannedBy: string;
  readonly cost: number;
  readonly orders: number;
}

/** Every plan ever made, the newest first; each can be looked at with the question it answered. */
export function PlansPage({
  plans,
  mostListed,
  isSearching,
}: {
  readonly plans: readonly PlanRow[];
  readonly isSearching: boolean;
  readonly mostListed: number;
}) {
  const followed = plans.find(({ state }) => state === "accepted");
  return (
    <>
      <h1>
        {followed ? `The workshop follows plan ${followed.planId}.` : "The workshop follows no plan yet."}
      </h1>
      {isSearching && <RunningSearch />}
      <PlanNowForm words={plans.length === 0 ? "Plan now" : "Plan again"} />
      {plans.length > 0 && <PlansTable plans={plans} />}
      {plans.length === mostListed && <p class="aside">Only the newest {mostListed} are listed.</p>}
    </>
  );
}

function PlansTable({ plans }: { readonly plans: readonly PlanRow[] }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Plan</th>
          <th scope="col">Planned</th>
          <th scope="col">Answers</th>
          <th scope="col">Late by</th>
          <th scope="col">State</th>
        </tr>
      </thead>
      <tbody>
        {plans.map(({ planId, plannedAt, plannedBy, orders, cost, state }) => (
          <tr key={planId}>
            <th scope="row">
              <a href={`/plans/${planId}`}>Plan {planId}</a>
            </th>
            <td data-label="Planned">
              {momentWords(plannedAt, timeZone)} by {plannedBy}
            </td>
            <td data-label="Answers">{counted(orders, "order")}</td>
            <td data-label="Late by">{cost === 0 ? "nothing is late" : pieceDays(cost)}</td>
            <td data-label="State">
              <StateMark words={stateWords[state]} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
