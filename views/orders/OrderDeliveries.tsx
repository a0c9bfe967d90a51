import { momentWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";

export interface OrderDelivery {
  readonly id: number;
  readonly how: "parcel" | "local-round" | "collected" | "market-crate";
  readonly carrier: string;
  readonly tracking: string;
  readonly shippedAt: Date;
  readonly deliveredAt: Date | null;
  readonly units: number;
}

const ways: Readonly<Record<OrderDelivery["how"], string>> = {
  parcel: "by parcel",
  "local-round": "on the local round",
  collected: "collected",
  "market-crate": "in a market crate",
};

/** What has left for the order, and whether it arrived. */
export function OrderDeliveries({ deliveries }: { readonly deliveries: readonly OrderDelivery[] }) {
  const { workshop } = usePageContext();
  const timeZone = workshop?.timeZone ?? "UTC";
  if (deliveries.length === 0) return null;
  return (
    <>
      <h2>What has left</h2>
      <ul class="plain-list">
        {deliveries.map((delivery) => (
          <li key={delivery.id}>
            <a href={`/delivery/${delivery.id}`}>
              {pieces(delivery.units)} {ways[delivery.how]}
            </a>
            {carriedBy(delivery)}, left {momentWords(delivery.shippedAt, timeZone)}
            {delivery.deliveredAt
              ? `, arrived ${momentWords(delivery.deliveredAt, timeZone)}`
              : ", not yet recorded as arrived"}
          </li>
        ))}
      </ul>
    </>
  );
}

function carriedBy({ carrier, tracking }: OrderDelivery): string {
  const words = [carrier, tracking].filter((part) => part !== "").join(" ");
  return words === "" ? "" : `, ${words}`;
}
