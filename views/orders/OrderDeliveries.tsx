import { TrackingNumber } from "../delivery/ParcelList.tsx";
import type { NamedParcel } from "../delivery/parcelWords.ts";
import { momentWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";

export interface OrderDelivery {
  readonly deliveryId: number;
  readonly how: "parcel" | "local-round" | "collected" | "market-crate";
  readonly parcels: readonly (NamedParcel & {
    readonly parcelId: number;
    readonly address: string | null;
  })[];
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
          <li key={delivery.deliveryId}>
            <a href={`/delivery/${delivery.deliveryId}`}>
              {pieces(delivery.units)} {ways[delivery.how]}
            </a>
            , left {momentWords(delivery.shippedAt, timeZone)}
            {delivery.deliveredAt
              ? `, arrived ${momentWords(delivery.deliveredAt, timeZone)}`
              : ", not yet recorded as arrived"}
            <ParcelNumbers parcels={delivery.parcels} />
          </li>
        ))}
      </ul>
    </>
  );
}

/** Who carries each parcel under which number. */
function ParcelNumbers({ parcels }: Pick<OrderDelivery, "parcels">) {
  return (
    <>
      {parcels.map((parcel) => (
        <span class="under" key={parcel.parcelId}>
          {[parcel.carrier || "Parcel", parcel.service].filter((part) => part !== "").join(", ")}:{" "}
          <TrackingNumber parcel={parcel} />
        </span>
      ))}
    </>
  );
}
