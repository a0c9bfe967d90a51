import type { KeptPromise } from "../../server/delivery/promiseQueries.ts";
import type { StoppedPieces } from "../../server/holds/orderStops.ts";
import type { StoppedPackaging } from "../../server/holds/packagingStops.ts";
import type { OrderState, OrderTerms, Promptness } from "../../server/orders/order.ts";
import type { OrderMoney } from "../../server/prices/priceOrder.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { KeptPromisePart } from "../delivery/KeptPromisePart.tsx";
import { StoppedInOrder } from "../holds/StoppedInOrder.tsx";
import { type OrderInvoice, OrderInvoices } from "../papers/OrderInvoices.tsx";
import { ConfirmDraft } from "./ConfirmDraft.tsx";
import type { HistoryEntry } from "./historyWords.ts";
import { OrderActions } from "./OrderActions.tsx";
import { OrderDeliveries, type OrderDelivery } from "./OrderDeliveries.tsx";
import { OrderFacts } from "./OrderFacts.tsx";
import { OrderHistory } from "./OrderHistory.tsx";
import { OrderLinesTable, type ShownLine } from "./OrderLinesTable.tsx";
import { MoneySums } from "./OrderMoney.tsx";
import { orderHeadline } from "./orderHeadline.ts";
import type { Advice } from "./promiseWords.ts";

/** One order with everything about it. */
export interface ShownOrder {
  readonly id: number;
  readonly reference: string;
  readonly customerId: number;
  readonly customer: string;
  readonly address: string;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  readonly neededBy: string | null;
  readonly customerReference: string;
  /** What the shop was told to quote, where it came from its own order page. */
  readonly shopReference: string | null;
  readonly customerNote: string;
  readonly advisedShipBy: string | null;
  readonly advisedAt: Date | null;
  /** Who confirmed it although the advice said otherwise. */
  readonly againstAdviceBy: string | null;
  readonly money: OrderMoney;
  readonly state: OrderState;
  readonly note: string;
  readonly createdAt: Date;
  readonly confirmedAt: Date | null;
  readonly packedAt: Date | null;
  readonly shippedAt: Date | null;
  readonly deliveredAt: Date | null;
  readonly cancelledAt: Date | null;
  readonly promptness: Promptness;
  readonly lines: readonly ShownLine[];
  /** Pieces in it that are on hold or recalled. */
  readonly stopped: readonly StoppedPieces[];
  readonly stoppedPackaging: readonly StoppedPackaging[];
  readonly deliveries: readonly OrderDelivery[];
  /** What was promised and what left; null for a draft. */
  readonly kept: KeptPromise | null;
  readonly invoices: readonly OrderInvoice[];
  readonly history: readonly HistoryEntry[];
}

interface OrderPageProps {
  readonly order: ShownOrder;
  /** Why something just asked for was not done. */
  readonly clash: string | null;
  /** When a draft can be promised, where that was asked for with the button. */
  readonly advice: Advice | null;
}

export function OrderPage({ order, clash, advice }: OrderPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a>
      </p>
      <h1>
        <Unbroken words={orderHeadline(order)} />
      </h1>
      {clash && (
        <p class="notice" role="alert">
          {clash}
        </p>
      )}
      <StoppedInOrder stopped={order.stopped} packaging={order.stoppedPackaging} />
      <OrderFacts order={order} />
      {order.state === "draft" && <ConfirmDraft order={order} advice={advice} />}
      <OrderActions order={order} />
      <h2>What is ordered</h2>
      <OrderLinesTable lines={order.lines} currency={order.money.currency} />
      <Money order={order} />
      {order.kept && (order.deliveries.length > 0 || order.kept.verdict === "late") && (
        <KeptPromisePart kept={order.kept} />
      )}
      <OrderDeliveries deliveries={order.deliveries} />
      <OrderInvoices order={order} />
      <OrderHistory entries={order.history} />
    </>
  );
}

/** What it comes to; a workshop without prices is not told of money on every page. */
function Money({ order: { money, state } }: { readonly order: ShownOrder }) {
  if (money.unpriced === money.lines.length) return null;
  return (
    <section>
      <h2>What it comes to</h2>
      <p class="aside">
        {money.fixed
          ? "At the prices it was confirmed at."
          : state === "draft"
            ? "At today's prices; they are fixed when it is confirmed."
            : "At today's prices: there were none when it was confirmed."}
      </p>
      <MoneySums money={money} />
    </section>
  );
}
