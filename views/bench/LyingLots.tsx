import type { ComponentChildren } from "preact";
import type { LyingLot } from "../../server/bench/queries.ts";
import { Swatch } from "../components/Swatch.tsx";
import { clockWords, momentWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";
import { TapForm } from "./TapForm.tsx";
import { TimeLeft } from "./Timers.tsx";

interface PartProps {
  readonly lots: readonly LyingLot[];
  readonly timeZone: string;
}

/** Lots to be turned over in their molds now. */
export function LotsToTurn({ lots, timeZone, now }: PartProps & { readonly now: Date }) {
  return (
    <Part title="To turn now" lots={lots} words={(lot) => turningWords(lot, timeZone)}>
      {(lot) => (
        <span class="actions">
          <TapForm action={`/bench/lots/${lot.id}/turning`} words="Turned" id={`turning-${lot.id}`}>
            <input type="hidden" name="turning" value={lot.turnings + 1} />
          </TapForm>
          {lot.turnDueAt && <TimeLeft until={lot.turnDueAt} now={now} />}
        </span>
      )}
    </Part>
  );
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
    <Part
      title="To unmold later"
      lots={lots}
      words={(lot) => `${inMoldWords(lot, timeZone)} ${turningWords(lot, timeZone)}`.trim()}
    >
      {(lot) => (
        <span class="actions">
          <a class="button quiet" href={`/bench/lots/${lot.id}/unmolding`}>
            Dry already
          </a>
          {lot.turnings > 0 && (
            <TapForm
              action={`/bench/lots/${lot.id}/turning/put-back`}
              words="Not turned after all"
              quiet
              id={`turning-${lot.id}`}
            >
              <input type="hidden" name="turning" value={lot.turnings} />
            </TapForm>
          )}
        </span>
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

/** "Turned Mon 1 Mar 12:31, again at 15:31." Nothing for what is not turned, or not any more. */
function turningWords({ turnedAt, turnDueAt }: LyingLot, timeZone: string): string {
  const turned = turnedAt ? `Turned ${momentWords(turnedAt, timeZone)}` : "";
  const due = turnDueAt ? `${turnedAt ? ", again" : "To turn"} at ${clockWords(turnDueAt, timeZone)}` : "";
  return turned + due === "" ? "" : `${turned}${due}.`;
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
