import type { FormAnswer } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { minutesWords } from "../format/quantities.ts";
import type { OrderFigures } from "./planFigures.ts";
import { fateWords, pieceDays, qualityWords } from "./planWords.ts";
import { WhatIfForm } from "./WhatIfForm.tsx";
import type { ComparedOrder, WhatIfChoices, WhatIfFigures } from "./whatIfFigures.ts";
import { whatIfHeadline } from "./whatIfWords.ts";

/** What would be if something were different, beside what is: the orders first. */
export function WhatIfPage({
  whatIf,
  choices,
  answer,
}: {
  readonly whatIf: WhatIfFigures;
  readonly choices: WhatIfChoices;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <p class="trail">
        <a href="/plan">Plan</a>
      </p>
      <h1>
        <Unbroken words={whatIfHeadline(whatIf)} />
      </h1>
      <p>
        Both were planned anew for this page, with the same effort. Nothing is kept; this page's address is
        the question and asks it again.
      </p>
      <h2>Order by order</h2>
      <OrdersBeside orders={whatIf.orders} />
      <h2>In all</h2>
      <TotalsBeside whatIf={whatIf} />
      <ToMakeItSo whatIf={whatIf} />
      <h2>Ask otherwise</h2>
      <WhatIfForm choices={choices} answer={answer} />
    </>
  );
}

function OrdersBeside({ orders }: { readonly orders: readonly ComparedOrder[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">Ship by</th>
          <th scope="col">As today</th>
          <th scope="col">Then</th>
        </tr>
      </thead>
      <tbody>
        {orders.map((order) => (
          <OrderBeside key={(order.today ?? order.changed)?.reference} order={order} />
        ))}
      </tbody>
    </table>
  );
}

function OrderBeside({ order }: { readonly order: ComparedOrder }) {
  const known = order.today ?? order.changed;
  if (known === null) return null;
  return (
    <tr>
      <th scope="row">
        {known.orderId === null ? (
          <Unbroken words={known.reference} />
        ) : (
          <a href={`/orders/${known.orderId}`}>
            <Unbroken words={known.reference} />
          </a>
        )}{" "}
        <span class="aside order-of">{known.customer}</span>
      </th>
      <td class="nowrap" data-label={known.market ? "Market" : "Ship by"}>
        {shortDayWords(known.shipBy)}
      </td>
      <td data-label="As today">{order.today === null ? "not there" : <Fate order={order.today} />}</td>
      <td data-label="Then">{order.changed === null ? "left out" : <Fate order={order.changed} />}</td>
    </tr>
  );
}

function Fate({ order }: { readonly order: OrderFigures }) {
  const { fate, readyOn } = order;
  return (
    <>
      {readyOn !== null && `${shortDayWords(readyOn)} `}
      <StateMark words={fateWords[fate](order)} urgent={fate === "late" || fate === "short"} />
    </>
  );
}

function TotalsBeside({ whatIf: { today, changed } }: { readonly whatIf: WhatIfFigures }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">In all</th>
          <th scope="col">As today</th>
          <th scope="col">Then</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">Late by</th>
          <td data-label="As today">{pieceDays(today.cost)}</td>
          <td data-label="Then">{pieceDays(changed.cost)}</td>
        </tr>
        <tr>
          <th scope="row">Hands for what is made</th>
          <td data-label="As today">{minutesWords(today.handMinutes)}</td>
          <td data-label="Then">{minutesWords(changed.handMinutes)}</td>
        </tr>
        <tr>
          <th scope="row">How good the plan is</th>
          <td data-label="As today">{qualityWords(today)}</td>
          <td data-label="Then">{qualityWords(changed)}</td>
        </tr>
      </tbody>
    </table>
  );
}

/** Where each thing that was asked about is really changed. */
function ToMakeItSo({ whatIf }: { readonly whatIf: WhatIfFigures }) {
  const places = [
    whatIf.molds !== null && { href: "/setup/shapes", words: "shapes and mold sets" },
    (whatIf.trays !== null || whatIf.mixers !== null) && {
      href: "/setup/workshop",
      words: "trays and mixers",
    },
    (whatIf.handMinutes !== null || whatIf.damp !== null) && {
      href: "/setup/sessions",
      words: "sessions and damp days",
    },
    whatIf.without !== null && { href: "/orders", words: "orders" },
    whatIf.added !== null && { href: "/orders/new", words: "a new order" },
  ].filter((place) => place !== false);
  return (
    <p>
      To make it so, go to{" "}
      {places.map(({ href, words }, index) => (
        <span key={href}>
          {index > 0 && ", "}
          <a href={href}>{words}</a>
        </span>
      ))}
      ; then plan again.
    </p>
  );
}
