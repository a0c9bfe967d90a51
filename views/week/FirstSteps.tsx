import type { Beginning } from "../../server/week/weekNews.ts";
import { usePageContext } from "../layout/pageContext.ts";

interface Step {
  readonly words: string;
  readonly href: string;
  readonly label: string;
}

const steps: Readonly<Record<Beginning, Step>> = {
  "no-products": {
    words: "Shapes with their mold sets, blends, and what you make of them: a quarter of an hour, once.",
    href: "/setup",
    label: "Set up the workshop",
  },
  "no-sessions": {
    words: "The planner fills working sessions: the mornings and afternoons of an ordinary week.",
    href: "/setup/sessions",
    label: "Say when you work",
  },
  "no-orders": {
    words: "Type an order in, or take a whole list from a file.",
    href: "/orders/new",
    label: "Take an order",
  },
  "no-plan": {
    words: "The plan says what to mix when, and which orders can't be ready in time.",
    href: "/plan",
    label: "Make a plan",
  },
};

/** What has to be done before there is a week to tell of. A helper only learns that it is not done yet. */
export function FirstSteps({ beginning }: { readonly beginning: Beginning }) {
  const { person } = usePageContext();
  const step = steps[beginning];
  if (person?.role !== "owner") return <p>The owner has something to prepare first.</p>;
  return (
    <>
      <p>{step.words}</p>
      <p class="actions">
        <a class="button" href={step.href}>
          {step.label}
        </a>
      </p>
    </>
  );
}
