import type { Market } from "../../server/labels/markets.ts";
import type { SheetRow } from "../../server/labels/queries.ts";
import type { SheetOffer } from "../../server/labels/sheetOffers.ts";
import { Field, FormMistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted } from "../format/quantities.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";
import { SetupTrail } from "../setup/SetupTrail.tsx";
import { labelSizeWords, lengthWords } from "./lengthWords.ts";
import { marketWords } from "./marketWords.ts";
import { NoAdvice } from "./NoAdvice.tsx";

interface LabelsSetupProps {
  readonly maker: { readonly market: Market };
  readonly sheets: readonly SheetRow[];
  readonly offers: readonly SheetOffer[];
  readonly answer: FormAnswer;
}

/** By whose rules labels are looked over, who stands on them, and on what sheets they are printed. */
export function LabelsSetupPage({ maker, sheets, offers, answer }: LabelsSetupProps) {
  return (
    <>
      <SetupTrail />
      <h1>{setupSentence(maker.market, sheets)}</h1>
      <NoAdvice />
      <Form action="/setup/labels">
        <FormMistake answer={answer} />
        <MarketChoice answer={answer} />
        <MakerFields answer={answer} />
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
      <Sheets sheets={sheets} offers={offers} />
    </>
  );
}

function setupSentence(market: Market, sheets: readonly SheetRow[]): string {
  const inUse = sheets.filter(({ retiredAt }) => retiredAt === null).length;
  const rules =
    market === "none"
      ? "Labels claim no market's rules yet"
      : `Labels are looked over by rules of the ${marketWords[market]}`;
  return `${rules}; there ${inUse === 1 ? "is" : "are"} ${inUse === 0 ? "no sheets" : counted(inUse, "sheet")} to print them on.`;
}

function MarketChoice({ answer }: { readonly answer: FormAnswer }) {
  return (
    <RadioChoice
      name="market"
      legend="Whose rules count"
      answer={answer}
      options={[
        {
          value: "us",
          label: marketWords.us,
          meaning:
            "Heights of letters by the size of the label, ounces first, the caution for foaming baths.",
        },
        { value: "eu", label: marketWords.eu, meaning: "Heights by the net weight, grams first, parfum." },
        { value: "uk", label: marketWords.uk, meaning: "As in the European Union, by the rules it kept." },
        { value: "none", label: marketWords.none, meaning: "Legible letters only; you look after the rest." },
      ]}
    />
  );
}

function MakerFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <div class="fields even">
        <Field
          name="makerName"
          label="Maker on the label"
          hint="Who answers for the goods."
          answer={answer}
          maxLength={120}
        />
        <Field
          name="makerPlace"
          label="Place"
          hint="Street, town, code, and the country where goods cross borders."
          answer={answer}
          maxLength={200}
        />
        <Field
          name="contact"
          label="Contact for complaints"
          hint="In the United States a domestic address, phone or website."
          answer={answer}
          maxLength={200}
        />
        <Field
          name="gs1Prefix"
          label="GS1 company prefix"
          hint="6 to 11 digits, your own. Blank: codes hold the lot alone."
          answer={answer}
          inputMode="numeric"
          autocomplete="off"
          maxLength={20}
        />
      </div>
      <TickField
        name="adultsOnly"
        label="Every product is labelled for adults only"
        hint="The label then says so."
        answer={answer}
      />
    </>
  );
}

function Sheets({
  sheets,
  offers,
}: {
  readonly sheets: readonly SheetRow[];
  readonly offers: readonly SheetOffer[];
}) {
  const inUse = sheets.filter(({ retiredAt }) => retiredAt === null);
  const retired = sheets.filter(({ retiredAt }) => retiredAt !== null);
  return (
    <section>
      <h2>Sheets</h2>
      <SheetList sheets={inUse} />
      {retired.length > 0 && (
        <details>
          <summary>{counted(retired.length, "retired sheet")}</summary>
          <SheetList sheets={retired} />
        </details>
      )}
      <h3>Add a sheet, from a size or from nothing</h3>
      <ul class="size-offers">
        {offers.map((offer, place) => (
          <li key={labelSizeWords(offer)}>
            <a class="button quiet" href={`/setup/labels/sheets/new?size=${place}`}>
              {labelSizeWords(offer)}
            </a>
          </li>
        ))}
        <li>
          <a class="button quiet" href="/setup/labels/sheets/new">
            Another size
          </a>
        </li>
      </ul>
    </section>
  );
}

function SheetList({ sheets }: { readonly sheets: readonly SheetRow[] }) {
  return (
    <ul class="plain-list narrow">
      {sheets.map((sheet) => (
        <li key={sheet.id} class="row">
          <a href={`/setup/labels/sheets/${sheet.id}`}>{sheet.name}</a>
          <span>{sheetWords(sheet)}</span>
        </li>
      ))}
    </ul>
  );
}

/** "12 labels of 70 × 50 mm on 210 mm × 297 mm". */
function sheetWords(sheet: SheetRow): string {
  const paper = `${lengthWords(sheet.paperWidthMicrometres, sheet.unit)} × ${lengthWords(sheet.paperHeightMicrometres, sheet.unit)}`;
  return `${counted(sheet.columns * sheet.rows, "label")} of ${labelSizeWords(sheet)} on ${paper}`;
}
