import type { StoppedShelfLot } from "../../server/holds/queries.ts";
import type { ShownRecall } from "../../server/recalls/queries.ts";
import type { WaitingDraft } from "../../server/stockist/waitingDrafts.ts";
import type { WeekNews } from "../../server/week/weekNews.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords } from "../format/dates.ts";
import { StoppedLots } from "../holds/StoppedLots.tsx";
import { usePageContext } from "../layout/pageContext.ts";
import { WaitingDrafts } from "../orders/WaitingDrafts.tsx";
import { UnfinishedRecalls } from "../recalls/RecallsPage.tsx";
import { EndangeredPlace } from "./EndangeredOrders.tsx";
import { FirstSteps } from "./FirstSteps.tsx";
import { MixingSection, MoldsAndTraysSection } from "./TodaysWork.tsx";
import { LeavingSection, PackingSection, RisksSection, TightSection } from "./WeekOrders.tsx";
import { weekHeadline } from "./weekHeadline.ts";

/** The page one opens in the morning: the sentence, what needs a look, what leaves, and today's work. */
export function WeekPage({
  news,
  drafts,
  stopped,
  recalls,
  today,
}: {
  readonly news: WeekNews;
  /** Drafts that came by themselves and wait for the owner; none for anybody else. */
  readonly drafts: readonly WaitingDraft[];
  readonly stopped: readonly StoppedShelfLot[];
  /** Unfinished ones; none for whom customers are not meant. */
  readonly recalls: readonly ShownRecall[];
  readonly today: string;
}) {
  const { workshop } = usePageContext();
  const timeZone = workshop?.timeZone ?? "UTC";
  return (
    <>
      <p class="trail aside">{dayWords(today)}</p>
      <h1>
        <Unbroken words={weekHeadline(news, timeZone, drafts.length)} />
      </h1>
      {news.beginning && <FirstSteps beginning={news.beginning} />}
      <div class="week">
        <div>
          {news.followsPlan && <EndangeredPlace />}
          <RisksSection risks={news.risks} />
          <UnfinishedRecalls recalls={recalls} />
          <StoppedLots lots={stopped} timeZone={timeZone} />
          <WaitingDrafts drafts={drafts} />
          <LeavingSection leaving={news.leaving} />
          <PackingSection toPack={news.toPack} />
          <TightSection risks={news.risks} />
        </div>
        <div>
          <MixingSection news={news} timeZone={timeZone} />
          <MoldsAndTraysSection news={news} timeZone={timeZone} />
        </div>
      </div>
    </>
  );
}
