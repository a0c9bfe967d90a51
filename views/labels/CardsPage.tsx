import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";
import { type CardFacts, cardWords } from "./cardWords.ts";

interface CardsPageProps {
  /** "lot K7QF", "order W-104". */
  readonly of: string;
  readonly back: { readonly href: string; readonly words: string };
  readonly address: string;
  readonly isFree: boolean;
  readonly cards: readonly CardFacts[];
  readonly answer: FormAnswer;
}

/** Cards as they would be printed, and on what paper. */
export function CardsPage({ of, back, address, isFree, cards, answer }: CardsPageProps) {
  return (
    <>
      <p class="trail">
        <a href={back.href}>{back.words}</a>
      </p>
      <h1>
        {cards.length === 0
          ? `Nothing stands packed for ${of}, so it needs no cards yet.`
          : sentence(`${spelled(cards.length, "card")} for ${of}`)}
      </h1>
      <ul class="plain-list narrow">
        {cards.map((card) => (
          <li key={`${card.lotCode} ${card.number} ${card.units}`} class="row">
            <strong class="lot">{card.lotCode}</strong>
            <span class="room-facts">{[...cardWords(card).values()].slice(1).join("; ")}</span>
          </li>
        ))}
      </ul>
      {cards.length > 0 && (
        <form method="get" action={`${address}.pdf`} class="narrow">
          <FormMistake answer={answer} />
          {isFree && <FreeFields answer={answer} />}
          <CardPaperField answer={answer} />
          <div class="actions">
            <button type="submit">Print the cards</button>
            {isFree && (
              <button type="submit" class="quiet" formAction={address}>
                Look again
              </button>
            )}
          </div>
          <p class="hint">
            Each has the lot as words and as a code for a scanner. Print at actual size, without fitting to
            the page.
          </p>
        </form>
      )}
    </>
  );
}

/** On what the cards are printed. */
export function CardPaperField({ answer }: { readonly answer: FormAnswer }) {
  return (
    <ChoiceField
      name="paper"
      label="Paper"
      answer={answer}
      choices={[
        { value: "a4", label: "A4, eight cards, to cut" },
        { value: "letter", label: "Letter, eight cards, to cut" },
        { value: "a6", label: "A6, a card each" },
      ]}
    />
  );
}

function FreeFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <RadioChoice
        name="kind"
        legend="For"
        answer={answer}
        options={[
          { value: "tray", label: "trays" },
          { value: "box", label: "boxes" },
        ]}
      />
      <div class="fields even">
        <Field
          name="count"
          label="How many cards"
          hint="One for each tray or box."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="units"
          label="Pieces in a box"
          hint="Blank: written in by hand."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
      </div>
    </>
  );
}
