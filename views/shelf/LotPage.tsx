import type { KeptPieces } from "../../server/holds/queries.ts";
import type { Stop } from "../../server/holds/stops.ts";
import type { LedgerMove, LotFacts, OrderOfLot } from "../../server/shelf/queries.ts";
import { inMoldWords, restingWords } from "../bench/LyingLots.tsx";
import { TapForm } from "../bench/TapForm.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { StopReasons } from "../holds/StoppedLots.tsx";
import { usePageContext } from "../layout/pageContext.ts";
import { CountForm, LossForm, PlaceForm } from "./LotForms.tsx";
import { LotLedger } from "./LotLedger.tsx";
import { lotSentence } from "./shelfWords.ts";

interface LotProps {
  readonly lot: LotFacts;
  readonly ledger: readonly LedgerMove[];
  readonly orders: readonly OrderOfLot[];
  readonly stops: readonly Stop[];
  readonly kept: readonly KeptPieces[];
  readonly loss: FormAnswer;
  readonly count: FormAnswer;
  readonly place: FormAnswer;
  readonly timeZone: string;
}

/** One lot: what there is of it, how it came to that, and putting it right. */
export function LotPage({ lot, ledger, orders, stops, kept, loss, count, place, timeZone }: LotProps) {
  const hasPieces = lot.formedAt !== null;
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
      </p>
      <h1>{lotSentence(lot)}</h1>
      <p>
        <Swatch look={lot.look} />
        {lot.product}. {whereItIs(lot, timeZone)}
      </p>
      <StopReasons lot={{ stops }} timeZone={timeZone} />
      <TakenBy orders={orders} />
      <KeptFor kept={kept} />
      <TraceLink lotId={lot.id} />
      <NextStep lot={lot} held={stops.some(({ kind }) => kind === "held")} />
      {hasPieces && (
        <div class="sheets">
          <LossForm lot={lot} answer={loss} />
          <CountForm lot={lot} answer={count} />
          {lot.state === "ready" && <PlaceForm lot={lot} answer={place} />}
        </div>
      )}
      {ledger.length > 0 && <LotLedger ledger={ledger} timeZone={timeZone} />}
    </>
  );
}

/** What it was mixed from and who has it names customers, so it is the owner's. */
function TraceLink({ lotId }: { readonly lotId: number }) {
  const { person } = usePageContext();
  if (person?.role !== "owner") return null;
  return (
    <p>
      <a href={`/trace/lots/${lotId}`}>What it was mixed from, and who has it</a>
    </p>
  );
}

function TakenBy({ orders }: { readonly orders: readonly OrderOfLot[] }) {
  if (orders.length === 0) return null;
  return (
    <ul class="plain-list narrow">
      {orders.map(({ reference, packedUnits, shippedUnits }) => (
        <li key={reference} class="row">
          <strong>
            <Unbroken words={reference} />
          </strong>
          <span>
            {pieces(packedUnits)} packed
            {shippedUnits > 0 && `, ${shippedUnits} of them shipped`}
          </span>
        </li>
      ))}
    </ul>
  );
}

function KeptFor({ kept }: { readonly kept: readonly KeptPieces[] }) {
  if (kept.length === 0) return null;
  return (
    <ul class="plain-list narrow">
      {kept.map(({ orderLineId, reference, units }) => (
        <li key={orderLineId} class="row">
          <strong>
            <Unbroken words={reference} />
          </strong>
          <span>{pieces(units)} kept for it</span>
        </li>
      ))}
    </ul>
  );
}

/** The step that comes next at the bench, or taking the last one back. */
function NextStep({ lot, held }: { readonly lot: LotFacts; readonly held: boolean }) {
  const next = nextSteps[lot.state];
  const back = lot.state === "resting" || lot.state === "ready" ? lot.state : null;
  return (
    <div class="actions">
      {next && (
        <a class="button" href={`/bench/lots/${lot.id}/${next.step}`}>
          {next.words}
        </a>
      )}
      <a class="button quiet" href={`/labels/lots/${lot.id}`}>
        Labels
      </a>
      {lot.formedAt !== null && <HoldLinks lotId={lot.id} held={held} />}
      {lot.runId !== null && (
        <a class="button quiet" href={`/bench/runs/${lot.runId}/sheet`}>
          Batch sheet
        </a>
      )}
      {back && (
        <TapForm
          action={`/bench/lots/${lot.id}/put-back`}
          words={back === "ready" ? "Not ready after all" : "Still in the molds after all"}
          quiet
        >
          <input type="hidden" name="state" value={back} />
        </TapForm>
      )}
    </div>
  );
}

/** Keeping pieces for an order is the owner's; that something is wrong with them anybody may say. */
function HoldLinks({ lotId, held }: { readonly lotId: number; readonly held: boolean }) {
  const { person } = usePageContext();
  return (
    <>
      <a class="button quiet" href={`/shelf/${lotId}/hold`}>
        {held ? "Why it is on hold" : "Put it on hold"}
      </a>
      {person?.role === "owner" && (
        <a class="button quiet" href={`/shelf/${lotId}/kept`}>
          Keep some for an order
        </a>
      )}
    </>
  );
}

const nextSteps: Partial<Record<LotFacts["state"], { readonly step: string; readonly words: string }>> = {
  mixing: { step: "pressing", words: "Record pressing" },
  drying: { step: "unmolding", words: "Record unmolding" },
  resting: { step: "readiness", words: "Record as ready" },
};

function whereItIs(lot: LotFacts, timeZone: string): string {
  if (lot.state === "drying") return inMoldWords(lot, timeZone);
  if (lot.state === "resting") return restingWords(lot, timeZone);
  if (lot.readyAt === null) return "";
  const place = lot.shelfPlace === "" ? "" : `, at ${lot.shelfPlace}`;
  return `Ready since ${momentWords(lot.readyAt, timeZone)}${place}.`;
}
