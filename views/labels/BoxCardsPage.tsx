import { FormMistake } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";
import type { BoxCard } from "./boxCardWords.ts";
import { CardPaperField } from "./CardsPage.tsx";

interface BoxCardsPageProps {
  readonly orderId: number;
  readonly reference: string;
  readonly cards: readonly (BoxCard & { readonly name: string })[];
  /** What goes into no box that is known. */
  readonly unboxed: readonly { readonly units: number; readonly product: string }[];
  readonly answer: FormAnswer;
}

/** The cards of an order's boxes as they would be printed, and on what paper. */
export function BoxCardsPage({ orderId, reference, cards, unboxed, answer }: BoxCardsPageProps) {
  return (
    <>
      <p class="trail">
        <a href={`/packing/${orderId}`}>{reference}</a>
      </p>
      <h1>
        <Unbroken words={answerOf(reference, cards.length)} />
      </h1>
      {unboxed.length > 0 && (
        <p class="notice">
          No box is known for {listed(unboxed.map(({ units, product }) => `${wholeWords(units)} ${product}`))}
          : they are on no card.
        </p>
      )}
      <ul class="plain-list narrow">
        {cards.map((card) => (
          <BoxLine key={card.number} card={card} />
        ))}
      </ul>
      {cards.length > 0 && (
        <form method="get" action={`/labels/orders/${orderId}/boxes.pdf`} class="narrow">
          <FormMistake answer={answer} />
          <CardPaperField answer={answer} />
          <div class="actions">
            <button type="submit">Print the cards</button>
          </div>
          <p class="hint">Print at actual size, without fitting to the page.</p>
        </form>
      )}
      <p>
        <a href={`/labels/orders/${orderId}/cards`}>Cards by lot, with a code for a scanner</a>
      </p>
    </>
  );
}

function BoxLine({ card }: { readonly card: BoxCardsPageProps["cards"][number] }) {
  return (
    <li>
      <span class="row">
        <strong>
          Box {card.number} of {card.of}
        </strong>
        <span>
          {card.name}, {pieces(card.units)}
        </span>
      </span>
      <span class="aside">
        {card.content.map(({ units, product, lotCode }, place) => (
          <span key={`${lotCode} ${product}`}>
            {place > 0 && ", "}
            {wholeWords(units)} {product} {lotCode && <span class="lot">{lotCode}</span>}
          </span>
        ))}
      </span>
    </li>
  );
}

function answerOf(reference: string, cards: number): string {
  return cards === 0
    ? `No boxes stand packed for ${reference}, or nobody has said what fills one.`
    : sentence(`${spelled(cards, "box card")} for ${reference}`);
}
