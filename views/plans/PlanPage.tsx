import type { PlanSupplies } from "../../server/supplies/planShortages.ts";
import { Form } from "../components/Form.tsx";
import { freshForm } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords } from "../format/dates.ts";
import { minutesWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { DryingBoard } from "./DryingBoard.tsx";
import { HoldUpsTable } from "./HoldUpsTable.tsx";
import { LateList } from "./LateList.tsx";
import { OrderFates } from "./OrderFates.tsx";
import { PlanMovesPart } from "./PlanMovesPart.tsx";
import { PlanNowForm } from "./PlanNowForm.tsx";
import type { LateFigures, PlanFigures } from "./planFigures.ts";
import type { PlanMoves } from "./planMoves.ts";
import { planHeadline, qualityWords, stateWords } from "./planWords.ts";
import { RunningSearch } from "./RunningSearch.tsx";
import { SessionsList } from "./SessionsList.tsx";
import { SuppliesStatement } from "./SuppliesStatement.tsx";
import { WhatIfForm } from "./WhatIfForm.tsx";
import type { WhatIfChoices } from "./whatIfFigures.ts";

/**
 * A plan, whole. `objections` say, a sentence each, why it can't be accepted any more; `proposal` is the newest plan
 * that waits to be accepted.
 */
export function PlanPage({
  plan,
  objections,
  proposal,
  isSearching,
  moves,
  late,
  choices,
  isFoundWhileAsking,
  supplies,
}: {
  readonly plan: PlanFigures;
  /** What moves against the plan that is followed; null where there is none, or it is this one. */
  readonly moves: PlanMoves | null;
  /** Why orders are late; null where that could not be found out in time. */
  readonly late: readonly LateFigures[] | null;
  readonly objections: readonly string[];
  readonly proposal: number | null;
  readonly isSearching: boolean;
  /** Whether it is better than what its search had shown before. */
  readonly isFoundWhileAsking: boolean;
  /** What the what-if form offers. */
  readonly choices: WhatIfChoices;
  /** Whether supplies last for it; null for a plan that is followed no more. */
  readonly supplies: PlanSupplies | null;
}) {
  return (
    <>
      <p class="trail">
        <a href="/plans">All plans</a>
      </p>
      <h1>
        <Unbroken words={planHeadline(plan, late ?? [])} />
      </h1>
      <Standing plan={plan} />
      {isSearching && <RunningSearch />}
      {isFoundWhileAsking && (
        <p class="notice">
          A better plan turned up while it was asked what holds the workshop up: this is it.
        </p>
      )}
      {proposal !== null && proposal > plan.planId && (
        <p class="notice">
          <a href={`/plans/${proposal}`}>Plan {proposal}</a> was made later and waits to be accepted.
        </p>
      )}
      {objections.length > 0 && <Objections objections={objections} />}
      {supplies && <SuppliesStatement supplies={supplies} />}
      <Actions plan={plan} acceptable={objections.length === 0} />
      <p>
        {qualityWords(plan)} What it makes takes {minutesWords(plan.handMinutes)} of hands.
        {plan.cost > 0 && <span class="aside"> A piece-day is one piece late by one day.</span>}
      </p>
      <Contents />
      {moves !== null && <PlanMovesPart moves={moves} />}
      {late === null ? <ReasonsMissing /> : <LateList late={late} />}
      <DryingBoard board={plan.board} />
      <SessionsList sessions={plan.sessions} drying={plan.drying} />
      <OrderFates orders={plan.orders} lastDate={plan.lastDate} />
      <HoldUpsTable holdUps={plan.holdUps} />
      <section>
        <h2 id="what-if">What if…</h2>
        <details>
          <summary>Ask what would be if something were different</summary>
          <WhatIfForm choices={choices} answer={freshForm()} />
        </details>
        <p>
          <a href="/plan/what-if">Ask on a page of its own</a>
        </p>
      </section>
    </>
  );
}

/** Which plan this is, and who made and accepted it when. */
function Standing({ plan }: { readonly plan: PlanFigures }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  const { acceptedAt, acceptedBy } = plan;
  return (
    <p>
      <StateMark words={`Plan ${plan.planId}: ${stateWords[plan.state]}`} />{" "}
      <span class="aside">
        Planned {momentWords(plan.plannedAt, timeZone)} by {plan.plannedBy}
        {acceptedAt && `, accepted ${momentWords(acceptedAt, timeZone)} by ${acceptedBy}`}.
      </span>
    </p>
  );
}

/** A plan is long; what one looks for in it is one touch away. */
function Contents() {
  return (
    <ul class="legend contents">
      <li>
        <a href="#orders">What becomes of each order</a>
      </li>
      <li>
        <a href="#sessions">Session by session</a>
      </li>
      <li>
        <a href="#what-holds-up">What holds the workshop up</a>
      </li>
      <li>
        <a href="#what-if">What if…</a>
      </li>
    </ul>
  );
}

function ReasonsMissing() {
  return <p class="aside">Why orders are late takes longer to find out than a page may. Reload it later.</p>;
}

function Objections({ objections }: { readonly objections: readonly string[] }) {
  return (
    <div class="notice" role="alert">
      <p>
        <strong>Plan again: this one no longer fits.</strong>
      </p>
      <ul>
        {objections.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

function Actions({ plan, acceptable }: { readonly plan: PlanFigures; readonly acceptable: boolean }) {
  const offered = plan.state === "proposed" && acceptable;
  const address = `/plans/${plan.planId}/acceptance`;
  return (
    <div class="plan-actions">
      {offered && (
        <Form action={address} class="actions">
          <button type="submit">Accept this plan</button>
          <span class="aside">
            It is taken as a whole: its runs then stand on the Bench. Work begun stays as it is.
          </span>
        </Form>
      )}
      {plan.state === "accepted" && (
        <p class="actions">
          <a class="button" href="/bench">
            To the bench
          </a>
          <span class="aside">Its runs stand there, session by session.</span>
        </p>
      )}
      <PlanNowForm words="Plan again" quiet={offered || plan.state === "accepted"} />
    </div>
  );
}
