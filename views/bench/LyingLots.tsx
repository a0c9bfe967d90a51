import type { ComponentChildren } from "preact";
import type { LyingLot } from "../../server/bench/queries.ts";
import { Swatch } from "../components/Swatch.tsx";
import { momentWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";
import { TapForm } from "./TapForm.tsx";

interface PartProps {
  readonly lots: readonly LyingLot[];
  readonly timeZone: string;
}

/** Lots that may leave their molds now. */
export function LotsToUnmold({ lots, timeZone }: PartProps) {
  return (
    <Part title="To unmold now" lots={lots} words={(lot) => inMoldWords(lot, timeZone)}>
      {(lot) => (
        <NextStep lot={lot} step="unmolding" words={lot.driesIn === "none" ? "All lifted" : "All unmolded"} />
      )}
    </Part>
  );
}

/** Lots that have rested long enough to be packed. */
export function LotsToFinish({ lots, timeZone }: PartProps) {
  return (
    <Part title="Rested, to put on the shelf" lots={lots} words={(lot) => restingWords(lot, timeZone)}>
      {(lot) => <NextStep lot={lot} step="readiness" words="All ready" />}
    </Part>
  );
}

/** Lots that still dry. */
export function LotsInMold({ lots, timeZone }: PartProps) {
  return (
    <Part title="To unmold later" lots={lots} words={(lot) => inMoldWords(lot, timeZone)}>
      {(lot) => (
        <a class="button quiet" href={`/bench/lots/${lot.id}/unmolding`}>
          Dry already
        </a>
      )}
    </Part>
  );
}

/** Lots that still rest. */
export function LotsResting({ lots, timeZone }: PartProps) {
  return (
    <Part title="Resting" lots={lots} words={(lot) => restingWords(lot, timeZone)}>
      {(lot) => (
        <a class="button quiet" href={`/bench/lots/${lot.id}/readiness`}>
          Dry already
        </a>
      )}
    </Part>
  );
}

function Part({
  title,
  lots,
  words,
  children,
}: {
  readonly title: string;
  readonly lots: readonly LyingLot[];
  /** Where a lot lies, and from when it may be moved on. */
  readonly words: (lot: LyingLot) => string;
  readonly children: (lot: LyingLot) => ComponentChildren;
}) {
  if (lots.length === 0) return null;
  return (
    <section>
      <h2>{title}</h2>
      <ul class="plain-list">
        {lots.map((lot) => (
          <li key={lot.id} class="lying-lot">
            <span>
              <Swatch look={lot.look} />
              <a
                class="lot-code"
                href={`/shelf/${lot.id}`}
                id={lot.state === "resting" ? `unmolding-${lot.id}` : undefined}
              >
                {lot.code}
              </a>{" "}
              <strong>{pieces(lot.units)}</strong> {lot.product}
            </span>
            <span class="aside">
              {words(lot)} On {counted(lot.trays, "tray")}.
            </span>
            {children(lot)}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** One tap when nothing was lost, a form when something was. */
function NextStep({
  lot,
  step,
  words,
}: {
  readonly lot: LyingLot;
  readonly step: "unmolding" | "readiness";
  readonly words: string;
}) {
  const address = `/bench/lots/${lot.id}/${step}`;
  return (
    <span class="actions">
      <TapForm action={address} words={words} id={`${step}-${lot.id}`}>
        {["cracked", "stuck", "swollen", "sample"].map((cause) => (
          <input key={cause} type="hidden" name={cause} value="0" />
        ))}
      </TapForm>
      <a class="button quiet" href={address}>
        Some are lost
      </a>
    </span>
  );
}

/**
 * "In the mold since Mon 1 Mar 13:00, may leave from Tue 2 Mar 05:00." Of a lot entered by hand nobody knows since
 * when: its first time is only that of the entry.
 */
export function inMoldWords(
  lot: Pick<LyingLot, "driesIn" | "runId" | "formedAt" | "unmoldDueAt">,
  timeZone: string,
): string {
  const place = lot.driesIn === "none" ? "Setting on the tray" : "In the mold";
  const leave = lot.driesIn === "none" ? "may be lifted" : "may leave";
  return `${place}${since(lot.runId === null ? null : lot.formedAt, timeZone)}, ${leave}${from(lot.unmoldDueAt, timeZone)}.`;
}

/** "Resting since Tue 2 Mar 09:00, may be packed from Tue 2 Mar 17:00." */
export function restingWords(
  lot: Pick<LyingLot, "formedAt" | "unmoldedAt" | "readyDueAt">,
  timeZone: string,
): string {
  const enteredSo = lot.unmoldedAt?.getTime() === lot.formedAt?.getTime();
  return `Resting${since(enteredSo ? null : lot.unmoldedAt, timeZone)}, may be packed${from(lot.readyDueAt, timeZone)}.`;
}

function since(instant: Date | null, timeZone: string): string {
  return instant ? ` since ${momentWords(instant, timeZone)}` : "";
}

function from(instant: Date | null, timeZone: string): string {
  return instant ? ` from ${momentWords(instant, timeZone)}` : "";
}
