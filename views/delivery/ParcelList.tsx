import { moneyWords } from "../format/money.ts";
import { counted, spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import type { ShownParcel } from "./ParcelFields.tsx";
import { parcelWeightWords } from "./parcelWords.ts";

interface ParcelListProps {
  readonly deliveryId: number;
  readonly parcels: readonly ShownParcel[];
  /** What each cost, by parcel, where whoever looks may see it. */
  readonly costs: { readonly currency: string; readonly minor: ReadonlyMap<number, number> } | null;
  readonly inOunces: boolean;
}

/** The parcels of a delivery, each a way to change what is known of it. */
export function ParcelList({ deliveryId, parcels, costs, inOunces }: ParcelListProps) {
  return (
    <>
      <h2 id="parcels">{capitalised(spelled(parcels.length, "parcel"))}</h2>
      {parcels.length > 0 && (
        <table class="stack">
          <thead>
            <tr>
              <th scope="col">Parcel</th>
              <th scope="col" class="number">
                Weight
              </th>
              <th scope="col">Number</th>
              {costs && (
                <th scope="col" class="number">
                  Cost
                </th>
              )}
              <th scope="col">To do</th>
            </tr>
          </thead>
          <tbody>
            {parcels.map((parcel, place) => (
              <tr key={parcel.parcelId}>
                <th scope="row">
                  {place + 1}. {carriedBy(parcel)}
                </th>
                <td data-label="Weight" class="number">
                  {parcelWeightWords(parcel.grams, inOunces) || "not weighed"}
                </td>
                <td data-label="Number">
                  <TrackingNumber parcel={parcel} />
                </td>
                {costs && (
                  <td data-label="Cost" class="number">
                    {costWords(costs, parcel.parcelId)}
                  </td>
                )}
                <td>
                  <a
                    class="button quiet"
                    href={`/delivery/${deliveryId}/parcels/${parcel.parcelId}`}
                    aria-label={`Change parcel ${place + 1}`}
                  >
                    Change
                  </a>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <TotalWords parcels={parcels} inOunces={inOunces} />
      <p class="actions">
        <a class="button quiet" href={`/delivery/${deliveryId}/parcels/new`}>
          Add a parcel
        </a>
      </p>
    </>
  );
}

/** The number of a parcel; a link where its carrier shows it on the web, which learns nothing of where it was followed from. */
export function TrackingNumber({
  parcel: { tracking, address },
}: {
  readonly parcel: Pick<ShownParcel, "tracking" | "address">;
}) {
  if (tracking === "") return <>none yet</>;
  if (address === null) return <span class="as-typed">{tracking}</span>;
  return (
    <a href={address} rel="noreferrer noopener external">
      {tracking}
    </a>
  );
}

function TotalWords({ parcels, inOunces }: Pick<ParcelListProps, "parcels" | "inOunces">) {
  const weighed = parcels.filter(({ grams }) => grams !== null);
  if (weighed.length < 2) return null;
  const grams = weighed.reduce((sum, parcel) => sum + (parcel.grams ?? 0), 0);
  return (
    <p>
      {counted(weighed.length, "weighed parcel")}: {parcelWeightWords(grams, inOunces)} together.
    </p>
  );
}

/** "Heron Post, overnight", or that nobody said. */
function carriedBy({ carrier, service }: ShownParcel): string {
  if (carrier === "") return "carrier not said";
  return service === "" ? carrier : `${carrier}, ${service}`;
}

function costWords({ currency, minor }: NonNullable<ParcelListProps["costs"]>, parcelId: number): string {
  const cost = minor.get(parcelId);
  return cost === undefined ? "not known" : moneyWords(cost, currency);
}
