import ical, { ICalCalendarMethod, type ICalEventData } from "ical-generator";
import { clockWords } from "../../views/format/dates.ts";
import { counted, pieces } from "../../views/format/quantities.ts";
import { listed } from "../../views/format/sentence.ts";
import type { MixingDate, TurningDate } from "./dates.ts";

/** An order to be shipped by a date. */
export interface ShipByDate {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  /** The workshop's own date. */
  readonly shipBy: string;
  readonly units: number;
}

export interface CalendarContent {
  readonly workshop: { readonly name: string; readonly timeZone: string; readonly openedAt: Date };
  readonly mixing: readonly MixingDate[];
  readonly turnings: readonly TurningDate[];
  /** What lots are called, by their number. */
  readonly lots: ReadonlyMap<number, { readonly code: string; readonly product: string }>;
  readonly shipBy: readonly ShipByDate[];
}

const MINUTE_MS = 60_000;

/** Phones ask again after so many seconds. */
const ASK_AGAIN_SECONDS = 900;

/**
 * The dates of the workshop as iCalendar (RFC 5545), written by a library; what is ours is which dates there are and
 * what they are called. Instants stand in UTC, so that no time zone has to be described; ship-by dates are dates. A
 * date keeps its UID while its time moves. A session's is its start: another start is another session.
 *
 * @param now the moment it is written, for DTSTAMP
 */
export function writeCalendar(content: CalendarContent, now: Date): string {
  const { workshop } = content;
  const ours = workshop.openedAt.getTime().toString(36);
  const calendar = ical({
    name: workshop.name,
    prodId: { company: "Halfmold", product: "Bench", language: "EN" },
    method: ICalCalendarMethod.PUBLISH,
    ttl: ASK_AGAIN_SECONDS,
  });
  const events: readonly ICalEventData[] = [
    ...content.mixing.map((date) => mixingEvent(date, workshop.timeZone)),
    ...content.turnings.map((date) => turningEvent(date, content.lots.get(date.lotId))),
    ...content.shipBy.map(shipByEvent),
  ];
  for (const { id, ...event } of events)
    calendar.createEvent({ ...event, id: `${id}.${ours}@halfmold`, stamp: now });
  return calendar.toString();
}

function mixingEvent({ startsAt, endsAt, runs }: MixingDate, timeZone: string): ICalEventData {
  return {
    id: `session-${startsAt.getTime() / 1000}`,
    start: startsAt,
    end: endsAt,
    summary: `Mix ${listed(runs.map(({ run }) => run.look.name))}`,
    description: runs
      .map(({ run, startsAt: at }) => {
        const units = run.lots.reduce((sum, { plannedUnits }) => sum + plannedUnits, 0);
        return `${clockWords(at, timeZone)} ${run.look.name}: ${counted(run.bowls, "bowl")}, ${pieces(units)}`;
      })
      .join("\n"),
  };
}

function turningEvent(
  { lotId, turning, units, startsAt, endsAt }: TurningDate,
  lot: { readonly code: string; readonly product: string } | undefined,
): ICalEventData {
  return {
    id: `turning-${lotId}-${turning}`,
    start: new Date(Math.floor(startsAt.getTime() / MINUTE_MS) * MINUTE_MS),
    end: new Date(Math.ceil(endsAt.getTime() / MINUTE_MS) * MINUTE_MS),
    summary: `Turn ${lot?.code ?? "a lot"}: ${pieces(units)} ${lot?.product ?? ""}`.trim(),
  };
}

function shipByEvent({ orderId, reference, customer, shipBy, units }: ShipByDate): ICalEventData {
  return {
    id: `ship-by-${orderId}`,
    // Written as a date alone: the library reads it in UTC.
    start: new Date(`${shipBy}T00:00:00Z`),
    allDay: true,
    summary: `Ship ${reference} to ${customer}: ${pieces(units)}`,
  };
}
