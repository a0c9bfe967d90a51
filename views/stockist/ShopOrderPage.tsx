import type { ShownShopOrder } from "../../server/stockist/shopOrders.ts";
import { FactList } from "../components/FactList.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { TrackingNumber } from "../delivery/ParcelList.tsx";
import { dateOf, dayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { ShopMoney } from "./ShopMoney.tsx";
import { whereItStands } from "./shopWords.ts";

interface ShopOrderPageProps {
  /** The address of the shop's page. */
  readonly base: string;
  readonly order: ShownShopOrder;
}

/** One order of a shop, as the shop sees it. */
export function ShopOrderPage({ base, order }: ShopOrderPageProps) {
  return (
    <>
      <p class="trail">
        <a href={base}>Your order page</a>
      </p>
      <h1>
        <Unbroken words={`${order.knownAs}, ${pieces(order.units)}: ${whereItStands(order)}.`} />
      </h1>
      {order.state === "draft" && (
        <p class="notice" role="status">
          We have it under <strong class="nowrap">{order.knownAs}</strong>. We look at it and write to you;
          only then is it agreed. Please name that reference when you write or call.
        </p>
      )}
      <Facts order={order} />
      <Lines order={order} />
      {order.money && <ShopMoney money={order.money} />}
      <p class="actions">
        <a class="button quiet" href={`${base}?again=${encodeURIComponent(order.knownAs)}`}>
          Order the same again
        </a>
      </p>
    </>
  );
}

function Facts({ order }: Pick<ShopOrderPageProps, "order">) {
  const { workshop } = usePageContext();
  const day = (at: Date) => dayWords(dateOf(at, workshop?.timeZone ?? "UTC"), { year: true });
  return (
    <FactList
      facts={[
        ["Sent in", day(order.createdAt)],
        ["Needed by", order.neededBy === null ? "" : dayWords(order.neededBy, { year: true })],
        ["Your own number", order.customerReference],
        ["What you wrote", order.customerNote],
      ]}
    >
      {order.sent.map(({ deliveryId, parcels, shippedAt, deliveredAt }) => (
        <div key={deliveryId}>
          <dt>{deliveredAt ? "Delivered" : "Left"}</dt>
          <dd>
            {day(deliveredAt ?? shippedAt)}
            {parcels.map((parcel) => (
              <span class="under" key={parcel.parcelId}>
                {parcel.carrier || "Parcel"}: <TrackingNumber parcel={parcel} />
              </span>
            ))}
          </dd>
        </div>
      ))}
    </FactList>
  );
}

function Lines({ order: { lines, money } }: Pick<ShopOrderPageProps, "order">) {
  const priced = new Map(money?.lines.map((line) => [line.productId, line]));
  return (
    <ul class="plain-list">
      {lines.map(({ productId, product, look, units }) => (
        <li key={productId} class="row">
          <span>
            <Swatch look={look} />
            {wholeWords(units)} {product}
          </span>
          <span class="number">
            {money && moneyWords(priced.get(productId)?.amounts?.amountMinor ?? 0, money.currency)}
          </span>
        </li>
      ))}
    </ul>
  );
}
