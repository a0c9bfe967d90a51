import type {
  Purchase,
  SupplyFacts,
  SupplyLot,
  SupplyMove,
  SupplyPack,
} from "../../server/supplies/ledgerQueries.ts";
import type { FormAnswer } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { ReceiveForm } from "./ReceiveForm.tsx";
import { CountSupplyForm, LoseSupplyForm } from "./SupplyForms.tsx";
import { SupplyLedger } from "./SupplyLedger.tsx";
import {
  countedWords,
  expiryWords,
  isPackagingKind,
  supplyAmountWords,
  supplyKindWords,
  supplySentence,
} from "./supplyWords.ts";

export interface SupplyPageProps {
  readonly supply: SupplyFacts;
  readonly lots: { readonly held: readonly SupplyLot[]; readonly usedUp: readonly SupplyLot[] };
  readonly ledger: readonly SupplyMove[];
  readonly packs: readonly SupplyPack[];
  readonly suppliers: readonly { readonly id: number; readonly name: string }[];
  readonly purchases: readonly Purchase[];
  readonly receipt: FormAnswer;
  readonly count: FormAnswer;
  readonly loss: FormAnswer;
  /** Null for whom prices are not meant. */
  readonly currency: string | null;
  readonly today: string;
  readonly timeZone: string;
}

/** One supply: its lots, what came and went, and receiving, counting and losing it. */
export function SupplyPage(props: SupplyPageProps) {
  const { supply, lots, ledger, currency } = props;
  const setup = isPackagingKind(supply.kind) ? "/setup/packaging" : "/setup/ingredients";
  return (
    <>
      <p class="trail">
        <a href="/supplies">Supplies</a>
      </p>
      <h1>{supplySentence(supply, lots.held)}</h1>
      <p class="aside">
        {supplyKindWords(supply.kind)}
        {supply.retiredAt !== null && ", retired"}
        {currency !== null && (
          <>
            . <a href={`${setup}/${supply.id}`}>What is known of it</a>,{" "}
            <a href={`/setup/supplies/${supply.id}/packs`}>who sells it in what packs</a>
          </>
        )}
      </p>
      {supply.beyond > 0 && (
        <p class="notice" role="status">
          <strong>{countedWords(supply.kind, supply.beyond)} were used beyond what the ledger had.</strong> A
          delivery may not be entered yet, or a count was off. Enter the delivery if there was one, then count
          what is there: that puts it right.
        </p>
      )}
      {lots.held.length > 0 && <Lots {...props} />}
      {supply.retiredAt === null && supply.counted && <ReceiveForm {...props} />}
      {supply.counted && (lots.held.length > 0 || supply.beyond > 0) && (
        <div class="sheets">
          <CountSupplyForm {...props} />
          {lots.held.length > 0 && <LoseSupplyForm {...props} />}
        </div>
      )}
      {ledger.length > 0 && <SupplyLedger {...props} />}
    </>
  );
}

function Lots({ supply, lots, currency, today }: SupplyPageProps) {
  return (
    <section>
      <h2>Lots, in the order to use them up</h2>
      <ul class="plain-list">
        {lots.held.map((lot) => (
          <li key={lot.lotId}>
            <span class="row">
              <span>
                <span class="lot-code">{lot.code}</span>{" "}
                {lot.recalled && <StateMark words="recalled: take nothing of it" urgent />}
                {lot.expiresOn !== null && lot.expiresOn < today && (
                  <StateMark words="past its last good day" urgent />
                )}
              </span>
              <strong>{supplyAmountWords(supply.kind, lot.amount)}</strong>
            </span>
            <span class="aside">
              {lotWords(lot, supply, currency, today)}
              {currency !== null && (
                <>
                  . <a href={`/supplies/lots/${lot.lotId}/correction`}>Put its day or price right</a>
                </>
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function lotWords(lot: SupplyLot, supply: SupplyFacts, currency: string | null, today: string): string {
  const price =
    currency === null || lot.priceMinor === null ? "" : ` for ${moneyWords(lot.priceMinor, currency)}`;
  const from = lot.supplier === null ? "" : ` from ${lot.supplier}`;
  const parts = [
    `${supplyAmountWords(supply.kind, lot.received)} came on ${shortDayWords(lot.receivedOn)}${from}${price}`,
    lot.supplierLot === "" ? "no supplier's lot noted" : `supplier's lot ${lot.supplierLot}`,
    lot.expiresOn === null ? "does not expire" : expiryWords(lot.expiresOn, today),
  ];
  return parts.join("; ");
}

/** "expected on Friday 5 March". */
export function purchaseWords({ amount, kind, supplier, dueOn }: Purchase): string {
  return `${supplyAmountWords(kind, amount)} from ${supplier}, due ${dayWords(dueOn)}`;
}
