import type { ComponentChildren } from "preact";
import type { Risk } from "../../server/week/ordersAtRisk.ts";
import type { OpenOrder } from "../../server/week/weekFacts.ts";
import type { Leaving, OrderToPack } from "../../server/week/weekNews.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";

/** What is late, will be, or no plan knows of. */
export function RisksSection({ risks }: { readonly risks: readonly Risk[] }) {
  const { person } = usePageContext();
  const pressing = risks.filter(({ kind }) => kind !== "tight");
  if (pressing.length === 0) return null;
  return (
    <section>
      <h2>Late, or not planned yet</h2>
      <ul class="plain-list">
        {pressing.map((risk) => (
          <OrderRow key={risk.order.id} order={risk.order} mark={riskMark(risk)}>
            {riskWords(risk)}
          </OrderRow>
        ))}
      </ul>
      {person?.role === "owner" && pressing.some(({ kind }) => kind !== "overdue") && (
        <p>
          <a href="/plan">What the plan says, and planning again</a>
        </p>
      )}
    </section>
  );
}

/** On time by the plan, but with nothing to spare. Many of them are no news, so they keep to themselves. */
export function TightSection({ risks }: { readonly risks: readonly Risk[] }) {
  const tight = risks.filter(({ kind }) => kind === "tight");
  if (tight.length === 0) return null;
  return (
    <details class="tight">
      <summary>
        {tight.length === 1 ? "One order is tight" : `${wholeWords(tight.length)} orders are tight`}
      </summary>
      <p class="aside">Ready on the very day they must leave: nothing may go wrong before.</p>
      <ul class="plain-list">
        {tight.map(({ order }) => (
          <OrderRow key={order.id} order={order} mark={shortDayWords(order.shipBy)}>
            {null}
          </OrderRow>
        ))}
      </ul>
    </details>
  );
}

function riskMark({ kind }: Risk) {
  const words = {
    overdue: "overdue",
    short: "short",
    late: "late",
    unplanned: "not planned",
    tight: "tight",
  };
  return <StateMark words={words[kind]} urgent />;
}

function riskWords(risk: Risk): string | null {
  const day = shortDayWords(risk.order.shipBy);
  switch (risk.kind) {
    case "overdue":
      return `should have left on ${day}, ${risk.days === 1 ? "yesterday" : `${spelled(risk.days, "day")} ago`}`;
    case "short":
      return `${pieces(risk.units)} will not be there on ${day}`;
    case "late":
      return risk.readyOn
        ? `ready on ${shortDayWords(risk.readyOn)}, ${spelled(risk.days, "day")} after ${day}`
        : `can't be made whole within the plan's days; wanted by ${day}`;
    case "unplanned":
      return `came after the plan; wanted by ${day}`;
    case "tight":
      return null;
  }
}

/** What goes out of the door today and tomorrow, and what already could. */
export function LeavingSection({ leaving }: { readonly leaving: readonly Leaving[] }) {
  const groups = [
    { title: "Leaves today", rows: leaving.filter(({ when }) => when === "today") },
    { title: "Leaves tomorrow", rows: leaving.filter(({ when }) => when === "tomorrow") },
    { title: "Packed before its day", rows: leaving.filter(({ when }) => when === "early") },
  ].filter(({ rows }) => rows.length > 0);
  return (
    <>
      {groups.map(({ title, rows }) => (
        <section key={title}>
          <h2>{title}</h2>
          <ul class="plain-list">
            {rows.map(({ order, needs, when }) => (
              <OrderRow key={order.id} order={order} mark={<NextStep order={order} needs={needs} />}>
                {leavingWords(order, needs, when)}
              </OrderRow>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function leavingWords(order: OpenOrder, needs: Leaving["needs"], when: Leaving["when"]): string | null {
  if (needs === "pieces") return "pieces are still to come";
  return when === "early" ? `may leave until ${shortDayWords(order.shipBy)}` : null;
}

function NextStep({ order, needs }: { readonly order: OpenOrder; readonly needs: Leaving["needs"] }) {
  if (needs === "shipping") return <a href="/delivery">packed: ship it</a>;
  if (needs === "packing") return <a href={`/packing/${order.id}`}>pack it</a>;
  return null;
}

/** What the shelf can fill now. */
export function PackingSection({ toPack }: { readonly toPack: readonly OrderToPack[] }) {
  if (toPack.length === 0) return null;
  return (
    <section>
      <h2>To pack from the shelf</h2>
      <ul class="plain-list">
        {toPack.map((order) => (
          <OrderRow key={order.id} order={order} mark={<a href={`/packing/${order.id}`}>pack it</a>}>
            {readyWords(order)}, by {shortDayWords(order.shipBy)}
          </OrderRow>
        ))}
      </ul>
    </section>
  );
}

function readyWords({ packing: { left, free } }: OrderToPack): string {
  if (left === 0) return "all its pieces are in the box: close it";
  return free === left ? `all ${pieces(left)} are ready` : `${free} of ${pieces(left)} are ready`;
}

/** An order's line: whose it is, what there is to say, and a mark or the way on. */
function OrderRow({
  order,
  mark,
  children,
}: {
  readonly order: OpenOrder;
  readonly mark: ComponentChildren;
  readonly children: ComponentChildren;
}) {
  const { person } = usePageContext();
  const href = person?.role === "owner" ? `/orders/${order.id}` : `/packing/${order.id}`;
  return (
    <li class="row">
      <span>
        <a href={href}>
          <Unbroken words={order.reference} />
        </a>{" "}
        {order.customer}
        {children && <span class="aside said">{children}</span>}
      </span>
      {mark}
    </li>
  );
}
