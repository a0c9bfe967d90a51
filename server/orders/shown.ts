import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { daysBetween } from "../../views/format/dates.ts";
import { plainMoney, plainShare } from "../../views/format/money.ts";
import type { HistoryEntry } from "../../views/orders/historyWords.ts";
import type { ShownOrder } from "../../views/orders/OrderPage.tsx";
import type { OrdersPageProps } from "../../views/orders/OrdersPage.tsx";
import type { OrderFormKind } from "../../views/orders/orderForm.ts";
import { filterWords } from "../../views/orders/stateWords.ts";
import { findKeptPromise } from "../delivery/promiseQueries.ts";
import { stoppedInOrder } from "../holds/orderStops.ts";
import { stoppedPackaging } from "../holds/packagingStops.ts";
import { fieldOf, idField } from "../http/formFields.ts";
import { listInvoicesOfOrder } from "../papers/queries.ts";
import { readOrderMoney } from "../prices/orderMoney.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { listWaitingDrafts } from "../stockist/waitingDrafts.ts";
import { readChangeDetails } from "./changeDetails.ts";
import { fingerprintOf, writtenContent } from "./content.ts";
import { filterLink, type OrderFilter, shownStates, usualState } from "./filter.ts";
import {
  findOrder,
  listDeliveries,
  listLines,
  listOrderChanges,
  listPackedLots,
  type OrderChangeRow,
  type OrderHead,
  type OrderLineRow,
} from "./oneOrder.ts";
import { promptnessOf } from "./order.ts";
import {
  listOrderBlends,
  listOrderCustomers,
  listOrders,
  ORDERS_A_PAGE,
  summariseOrders,
} from "./queries.ts";

/** The list as its page shows it. */
export async function showList(
  db: Database,
  filter: OrderFilter,
  today: string,
  query: unknown,
): Promise<OrdersPageProps> {
  const { rows, total, latestFirst } = await listOrders(db, filter, today);
  const firstShown = (filter.page - 1) * ORDERS_A_PAGE + 1;
  const toPage = (page: number) => filterLink({ ...filter, page });
  return {
    summary: { ...(await summariseOrders(db, today)), today },
    filters: {
      states: shownStates.map((state) => ({
        name: filterWords(state),
        href: filterLink({ ...filter, state, page: 1 }),
        chosen: state === filter.state,
      })),
      customers: await listOrderCustomers(db),
      blends: await listOrderBlends(db),
      filter,
      state: filter.state === usualState(filter) ? null : filter.state,
      plain: filterLink({ ...NOTHING_ASKED, state: "open" }),
      file: filterLink({ ...filter, page: 1 }, "/orders/list.csv"),
    },
    rows: rows.map((row) => ({
      ...row,
      promptness: promptnessOf(row.state, daysBetween(today, row.shipBy)),
    })),
    latestFirst,
    pager: {
      total,
      firstShown,
      earlier: filter.page > 1 ? toPage(filter.page - 1) : null,
      later: firstShown + rows.length <= total && rows.length > 0 ? toPage(filter.page + 1) : null,
    },
    waiting: await listWaitingDrafts(db),
    justTaken: justTakenOf(query),
  };
}

const NOTHING_ASKED = {
  ...{ customerId: null, words: "", blendId: null, from: null, to: null, lateness: null, page: 1 },
} as const;

/** How many orders the file brought, said by the link that leads here from taking it. */
function justTakenOf(query: unknown): number | null {
  const taken: unknown = typeof query === "object" && query !== null && "taken" in query ? query.taken : null;
  return typeof taken === "string" && /^[1-9]\d{0,4}$/.test(taken) ? Number(taken) : null;
}

/** One order with everything about it, as its page shows it. */
export async function showOrder(
  db: Database,
  order: OrderHead,
  { today, timeZone }: { readonly today: string; readonly timeZone: string },
): Promise<ShownOrder> {
  const lines = await listLines(db, order.id);
  const packedLots = await listPackedLots(db, order.id);
  const history = await listOrderChanges(db, order.id);
  const detailsOf = await readChangeDetails(db, history);
  const currency = await readCurrency(db);
  const money = await readOrderMoney(db, order.id, today);
  if (!money) throw new Error(`The money of order ${order.id} could not be read`);
  return {
    ...order,
    promptness: promptnessOf(order.state, daysBetween(today, order.shipBy)),
    money,
    lines: lines.map(({ blend, colour, pattern, ...line }, place) => ({
      ...line,
      look: { name: blend, colour, pattern },
      money: money.lines[place] ?? null,
      lots: packedLots.filter((lot) => lot.lineId === line.id),
    })),
    stopped: await stoppedInOrder(db, order.id),
    stoppedPackaging: await stoppedPackaging(db, order.id),
    deliveries: await listDeliveries(db, order.id),
    kept: (await findKeptPromise(db, order.id, { today, timeZone })) ?? null,
    invoices: await listInvoicesOfOrder(db, order.id),
    history: history.map((change) => ({ ...historyEntry(change), ...detailsOf(change), currency })),
  };
}

function historyEntry({
  before,
  after,
  ...entry
}: OrderChangeRow): Omit<HistoryEntry, "parcels" | "crate" | "currency"> {
  const written = (facts: unknown) => writtenContent.safeParse(facts).data ?? null;
  return {
    ...entry,
    units: piecesOfChange.safeParse(after).data ?? null,
    paper: paperOfChange.safeParse(after).data?.number ?? null,
    before: written(before),
    after: written(after),
  };
}

/** The ways in which an order's changes say how many pieces they were about. */
const piecesOfChange = z.union([
  z.object({ takes: z.array(z.object({ units: z.number() })) }).transform(({ takes }) => sumOf(takes)),
  z.object({ units: z.number() }).transform(({ units }) => units),
  z.object({ backOnShelf: z.number() }).transform(({ backOnShelf }) => backOnShelf),
]);

/** The invoice or credit note that a change was about. */
const paperOfChange = z.object({ number: z.string() });

function sumOf(takes: readonly { readonly units: number }[]): number {
  return takes.reduce((sum, { units }) => sum + units, 0);
}

/** The form of a change, filled in with what the order holds. */
export function changeForm(order: OrderHead, lines: readonly OrderLineRow[], currency: string): FormAnswer {
  const price = (minor: number | null) => (minor === null ? "" : plainMoney(minor, currency));
  const share = (basisPoints: number) => (basisPoints === 0 ? "" : plainShare(basisPoints));
  const draft = order.state === "draft";
  return freshForm({
    needed_by: order.neededBy ?? "",
    customer_reference: order.customerReference,
    // What is fixed is not typed.
    ...(draft && {
      discount: plainShare(order.discountBasisPoints),
      shipping: plainMoney(order.shippingMinor, currency),
      unit_price: [...lines.map(({ unitPriceMinor }) => price(unitPriceMinor)), ""],
      line_discount: [...lines.map(({ discountBasisPoints }) => share(discountBasisPoints)), ""],
    }),
    reference: order.reference,
    customer: String(order.customerId),
    terms: order.terms,
    ship_by: order.shipBy,
    note: order.note,
    product: [...lines.map((line) => String(line.productId)), ""],
    units: [...lines.map((line) => String(line.units)), ""],
  });
}

/** An order as it stands, for looking over what a form would make of it. */
export function standingOf(order: OrderHead, lines: readonly OrderLineRow[]) {
  return { ...order, confirmed: order.state !== "draft", lines };
}

/** The order that a form names in its field "order"; null for a new one. */
export async function readStanding(db: Database, body: unknown) {
  const orderId = idField().safeParse(fieldOf(body, "order"));
  const order = orderId.success ? await findOrder(db, orderId.data) : undefined;
  return order ? standingOf(order, await listLines(db, order.id)) : null;
}

/** What the form of a change carries and says beside its fields. */
export function changeKind(
  order: OrderHead,
  lines: readonly OrderLineRow[],
  form: { readonly seen: string | undefined; readonly clashed: boolean },
): OrderFormKind {
  return {
    is: "change",
    orderId: order.id,
    reference: order.reference,
    seen: form.seen ?? fingerprintOf({ ...order, draft: order.state === "draft", lines }),
    state: order.state,
    newer: form.clashed ? { ...order, lines } : null,
  };
}
