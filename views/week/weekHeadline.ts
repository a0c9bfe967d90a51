import type { Risk } from "../../server/week/ordersAtRisk.ts";
import type { OpenOrder, OpenRun } from "../../server/week/weekFacts.ts";
import type { WeekNews } from "../../server/week/weekNews.ts";
import { clockWords, dayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";
import { waitingWords } from "../orders/WaitingDrafts.tsx";

/** More than three things at once are read by nobody; the page below tells the rest. */
const MOST_CLAUSES = 3;

/** The morning in one sentence, most urgent first: "Two orders leave today; mix oat and sea fennel at 09:00." */
export function weekHeadline(news: WeekNews, timeZone: string, drafts = 0): string {
  if (news.beginning === "no-products") return "A new workshop. Say first what you make.";
  if (news.beginning === "no-sessions") return "Say when you work, and the week can be planned.";
  const clauses = [
    overdue(news),
    leavingToday(news),
    willBeLate(news),
    unplanned(news),
    missed(news),
    mixing(news, timeZone),
    drafts > 0 ? waitingWords(drafts) : null,
    unmolding(news),
    packing(news),
    tight(news),
  ].filter((clause) => clause !== null);
  if (clauses.length > 0) return sentence(clauses.slice(0, MOST_CLAUSES).join("; "));
  if (news.beginning === "no-orders") return "No orders yet. Take the first one.";
  return news.nextRun
    ? `All quiet. The next mixing is on ${dayWords(news.nextRun.sessionDate)}.`
    : "All quiet: nothing is due, to be mixed or to be packed.";
}

function overdue({ risks }: WeekNews): string | null {
  const late = ofKind(risks, "overdue");
  return about(
    late.map(({ order }) => order),
    ({ reference, shipBy }) => `${reference} should have left on ${dayWords(shipBy)}`,
    (orders) => `${orders} should have left by now`,
  );
}

function leavingToday({ leaving }: WeekNews): string | null {
  return about(
    leaving.filter(({ when }) => when === "today").map(({ order }) => order),
    ({ reference }) => `${reference} leaves today`,
    (orders) => `${orders} leave today`,
  );
}

function willBeLate({ risks }: WeekNews): string | null {
  const late = ofKind(risks, "late");
  const short = ofKind(risks, "short");
  const clauses = [
    late.length === 1 && late[0]
      ? `${late[0].order.reference} will be late by ${spelled(late[0].days, "day")}`
      : null,
    late.length > 1 ? `${spelled(late.length, "order")} will be late` : null,
    ...short.map(({ order, units }) => `${order.reference} will be ${pieces(units)} short`),
  ].filter((clause) => clause !== null);
  return clauses.length > 0 ? clauses.join(" and ") : null;
}

function unplanned({ risks, waiting }: WeekNews): string | null {
  if (waiting.length > 0) {
    return about(
      waiting,
      ({ reference }) => `${reference} waits for a plan`,
      (orders) => `${orders} wait for a plan`,
    );
  }
  return about(
    ofKind(risks, "unplanned").map(({ order }) => order),
    ({ reference }) => `${reference} is not planned yet`,
    (orders) => `${orders} are not planned yet`,
  );
}

function missed({ missedRuns }: WeekNews): string | null {
  const [run] = missedRuns;
  return run ? `${blendsOf(missedRuns)} should have been mixed on ${dayWords(run.sessionDate)}` : null;
}

function mixing({ now, runsToday }: WeekNews, timeZone: string): string | null {
  const [first] = runsToday;
  if (!first) return null;
  const session = runsToday.filter((run) => run.startsAt.getTime() === first.startsAt.getTime());
  const when = first.startsAt <= now ? "now" : `at ${clockWords(first.startsAt, timeZone)}`;
  return `mix ${blendsOf(session)} ${when}`;
}

function unmolding({ lotsDue }: WeekNews): string | null {
  const units = lotsDue.filter((lot) => lot.state === "drying").reduce((total, lot) => total + lot.units, 0);
  return units > 0 ? `${pieces(units)} may leave their molds` : null;
}

function packing({ toPack }: WeekNews): string | null {
  return about(
    toPack,
    ({ reference }) => `${reference} can be packed`,
    (orders) => `${orders} can be packed`,
  );
}

function tight({ risks }: WeekNews): string | null {
  return about(
    ofKind(risks, "tight").map(({ order }) => order),
    ({ reference }) => `${reference} will be ready only on its day`,
    (orders) => `${orders} will be ready only on their day`,
  );
}

/** One order by its reference, several by their number, none not at all. */
function about(
  orders: readonly OpenOrder[],
  one: (order: OpenOrder) => string,
  several: (orders: string) => string,
): string | null {
  const [first] = orders;
  if (!first) return null;
  return orders.length === 1 ? one(first) : several(spelled(orders.length, "order"));
}

function ofKind<Kind extends Risk["kind"]>(risks: readonly Risk[], kind: Kind) {
  return risks.filter((risk): risk is Extract<Risk, { kind: Kind }> => risk.kind === kind);
}

/** "oat milk, sea fennel and cedar". */
function blendsOf(runs: readonly OpenRun[]): string {
  return listed([...new Set(runs.map((run) => run.blend.name.toLowerCase()))]);
}
