import { Mistake, marked } from "../components/Field.tsx";
import { type FormAnswer, typedList, typedText } from "../components/formAnswer.ts";

/** A carrier in use, and what it offers. */
export interface CarrierChoice {
  readonly id: number;
  readonly name: string;
  readonly services: readonly string[];
}

/** A parcel as pages show it. */
export interface ShownParcel {
  readonly parcelId: number;
  readonly carrierId: number | null;
  readonly carrier: string;
  readonly service: string;
  readonly grams: number | null;
  readonly tracking: string;
  /** Where it is followed. */
  readonly address: string | null;
}

type Kept = Pick<ShownParcel, "carrierId" | "carrier" | "service"> | null;

interface SentWithProps {
  readonly name: string;
  readonly carriers: readonly CarrierChoice[];
  /** What the parcel has already: it stays on offer when it is not in use any more. */
  readonly kept: Kept;
  readonly answer: FormAnswer;
}

/** The carrier together with its service, in one choice. */
export function SentWithField({ name, carriers, kept, answer }: SentWithProps) {
  return (
    <div class="field">
      <label for={name}>Carrier</label>
      <CarrierSelect
        id={name}
        choices={choicesOf(carriers, kept)}
        chosen={typedText(answer, "sentWith")}
        answer={answer}
      />
      <Mistake name={name} answer={answer} />
    </div>
  );
}

/** Rows for the parcels of a delivery that is about to leave: those typed, and room for one more. */
export function ParcelRows({
  carriers,
  currency,
  answer,
}: {
  readonly carriers: readonly CarrierChoice[];
  readonly currency: string | null;
  readonly answer: FormAnswer;
}) {
  const lists = ["sentWith", "grams", "tracking", "cost"].map((field) => typedList(answer, field).length);
  return (
    <fieldset>
      <legend>Parcels</legend>
      <p class="hint">
        Rows left empty do not count; all of it may also come later.
        {carriers.length === 0 && " Carriers are listed under Setup."}
      </p>
      <Mistake name="parcels" answer={answer} />
      {Array.from({ length: Math.max(1, ...lists) + 1 }, (_, place) => (
        <ParcelRow
          key={place}
          place={place}
          choices={choicesOf(carriers, null)}
          currency={currency}
          answer={answer}
        />
      ))}
    </fieldset>
  );
}

interface RowProps {
  readonly place: number;
  readonly choices: readonly Choice[];
  readonly currency: string | null;
  readonly answer: FormAnswer;
}

function ParcelRow({ place, choices, currency, answer }: RowProps) {
  const carrierField = `parcels.${place}.sentWith`;
  const chosen = typedList(answer, "sentWith")[place] ?? "";
  return (
    <fieldset class="fields contact" aria-label={`Parcel ${place + 1}`}>
      <p class="row-name" aria-hidden="true">
        Parcel {place + 1}
      </p>
      <div class="field">
        <label for={carrierField}>Carrier</label>
        <CarrierSelect id={carrierField} choices={choices} chosen={chosen} answer={answer} />
        <Mistake name={carrierField} answer={answer} />
      </div>
      <RowField field="grams" label="Weight in grams" place={place} answer={answer} inputMode="numeric" />
      <RowField field="tracking" label="Tracking number" place={place} answer={answer} inputMode="text" />
      {currency !== null && (
        <RowField
          field="cost"
          label={`Cost, ${currency}`}
          place={place}
          answer={answer}
          inputMode="decimal"
        />
      )}
    </fieldset>
  );
}

function RowField({
  field,
  label,
  place,
  answer,
  inputMode,
}: {
  readonly field: "grams" | "tracking" | "cost";
  readonly label: string;
  readonly place: number;
  readonly answer: FormAnswer;
  readonly inputMode: "numeric" | "decimal" | "text";
}) {
  const name = `parcels.${place}.${field}`;
  return (
    <div class="field">
      <label for={name}>{label}</label>
      <input
        id={name}
        name={field}
        value={typedList(answer, field)[place] ?? ""}
        inputMode={inputMode}
        autocomplete="off"
        {...marked(name, answer)}
      />
      <Mistake name={name} answer={answer} />
    </div>
  );
}

interface Choice {
  readonly value: string;
  readonly label: string;
}

function CarrierSelect({
  id,
  choices,
  chosen,
  answer,
}: {
  readonly id: string;
  readonly choices: readonly Choice[];
  readonly chosen: string;
  readonly answer: FormAnswer;
}) {
  return (
    <select id={id} name="sentWith" {...marked(id, answer)}>
      <option value="">Not said</option>
      {choices.map(({ value, label }) => (
        <option key={value} value={value} selected={value === chosen}>
          {label}
        </option>
      ))}
    </select>
  );
}

function choicesOf(carriers: readonly CarrierChoice[], kept: Kept): readonly Choice[] {
  const offered = carriers.flatMap(({ id, name, services }) =>
    ["", ...services].map((service) => choiceOf({ carrierId: id, carrier: name, service })),
  );
  if (kept === null || kept.carrierId === null) return offered;
  const own = choiceOf(kept);
  return offered.some(({ value }) => value === own.value) ? offered : [own, ...offered];
}

function choiceOf({ carrierId, carrier, service }: NonNullable<Kept>): Choice {
  return { value: `${carrierId}/${service}`, label: service === "" ? carrier : `${carrier}, ${service}` };
}
