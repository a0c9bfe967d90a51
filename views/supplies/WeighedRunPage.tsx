import type { RunUse } from "../../server/supplies/ledgerQueries.ts";
import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { dayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { expiryWords, supplyAmountWords } from "./supplyWords.ts";

interface Choice {
  readonly lotId: number;
  readonly code: string;
  readonly amount: number;
  readonly expiresOn: string | null;
}

interface WeighedRunProps {
  readonly run: {
    readonly id: number;
    readonly look: BlendLook;
    readonly blendId: number;
    readonly sessionDate: string;
    readonly startedAt: Date | null;
    readonly lots: readonly { readonly id: number; readonly code: string; readonly product: string }[];
  };
  readonly uses: readonly RunUse[];
  /** Lots that have some of a supply, by supply. */
  readonly choices: ReadonlyMap<number, readonly Choice[]>;
  readonly answer: FormAnswer;
  readonly today: string;
}

/** What went into one run, lot by lot: what a recall asks for, and where a lot that was taken instead is named. */
export function WeighedRunPage(props: WeighedRunProps) {
  const { run, uses, choices, answer, today } = props;
  const bySupply = [...new Set(uses.map(({ supplyId }) => supplyId))];
  return (
    <>
      <p class="trail">
        <a href="/supplies">Supplies</a>
      </p>
      <h1>
        <Swatch look={run.look} />
        {runSentence(props)}
      </h1>
      <p>
        Of {dayWords(run.sessionDate, { year: true })}, pressed as{" "}
        {run.lots.map(({ id, code, product }, place) => (
          <span key={id}>
            {place > 0 && ", "}
            <a class="lot-code" href={`/shelf/${id}`}>
              {code}
            </a>{" "}
            {product}
          </span>
        ))}
        .
      </p>
      <FormMistake answer={answer} />
      <ul class="plain-list">
        {bySupply.map((supplyId) => (
          <SupplyUses
            key={supplyId}
            runId={run.id}
            uses={uses.filter((use) => use.supplyId === supplyId)}
            choices={choices.get(supplyId) ?? []}
            chosen={typedText(answer, "supply") === String(supplyId) ? typedText(answer, "lot") : ""}
            today={today}
          />
        ))}
      </ul>
    </>
  );
}

function runSentence({ run, uses }: WeighedRunProps): string {
  if (run.startedAt === null) return `${run.look.name} has not been weighed out.`;
  if (uses.length === 0) return `${run.look.name}: nothing was booked from any lot.`;
  const beyond = uses.filter(({ lotId }) => lotId === null).map(({ name }) => name);
  const lots = counted(new Set(uses.flatMap(({ lotId }) => lotId ?? [])).size, "lot");
  return beyond.length === 0
    ? `${run.look.name} was weighed out from ${lots}.`
    : `${run.look.name} was weighed out from ${lots}; the ledger had too little of ${beyond.join(", ")}.`;
}

function SupplyUses({
  runId,
  uses,
  choices,
  chosen,
  today,
}: {
  readonly runId: number;
  readonly uses: readonly RunUse[];
  readonly choices: readonly Choice[];
  readonly chosen: string;
  readonly today: string;
}) {
  const [first] = uses;
  if (!first) return null;
  const taken = new Set(uses.map(({ lotId }) => lotId));
  const others = choices.filter(({ lotId }) => !taken.has(lotId));
  return (
    <li>
      <span class="row">
        <a href={`/supplies/${first.supplyId}`}>{first.name}</a>
        <strong>
          {supplyAmountWords(
            first.kind,
            uses.reduce((sum, { amount }) => sum + amount, 0),
          )}
        </strong>
      </span>
      {uses.map((use) => (
        <UseLine key={use.lotId} use={use} today={today} />
      ))}
      {others.length > 0 && (
        <details>
          <summary>Another lot was taken</summary>
          <Form action={`/supplies/runs/${runId}/lots`} class="inline">
            <input type="hidden" name="supply" value={String(first.supplyId)} />
            <label for={`lot-of-${first.supplyId}`}>Lot</label>
            <select id={`lot-of-${first.supplyId}`} name="lot">
              {others.map(({ lotId, code, amount, expiresOn }) => (
                <option key={lotId} value={lotId} selected={chosen === String(lotId)}>
                  {`${code}, ${supplyAmountWords(first.kind, amount)}, ${expiryWords(expiresOn, today)}`}
                </option>
              ))}
            </select>
            <button type="submit" class="quiet">
              It was this one
            </button>
          </Form>
        </details>
      )}
    </li>
  );
}

function UseLine({ use, today }: { readonly use: RunUse; readonly today: string }) {
  if (use.lotId === null)
    return (
      <p>
        <StateMark words={`${supplyAmountWords(use.kind, use.amount)} beyond the ledger`} urgent />
      </p>
    );
  const words = [
    supplyAmountWords(use.kind, use.amount),
    use.supplierLot === "" ? "" : `supplier's lot ${use.supplierLot}`,
    use.supplier ?? "",
    use.expiresOn === null ? "" : expiryWords(use.expiresOn, today),
  ];
  return (
    <p class="aside">
      <span class="lot-code">{use.code}</span> {words.filter((word) => word !== "").join(", ")}
    </p>
  );
}
