import type { WeekNews } from "../../server/week/weekNews.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { FirstSteps } from "./FirstSteps.tsx";
import { MixingSection, MoldsAndTraysSection } from "./TodaysWork.tsx";
import { LeavingSection, PackingSection, RisksSection, TightSection } from "./WeekOrders.tsx";
import { weekHeadline } from "./weekHeadline.ts";

/** The page one opens in the morning: the sentence, what needs a look, what leaves, and today's work. */
export function WeekPage({ news, today }: { readonly news: WeekNews; readonly today: string }) {
  const { workshop } = usePageContext();
  const timeZone = workshop?.timeZone ?? "UTC";
  return (
    <>
      <p class="trail aside">{dayWords(today)}</p>
      <h1>
        <Unbroken words={weekHeadline(news, timeZone)} />
      </h1>
      {news.beginning && <FirstSteps beginning={news.beginning} />}
      <div class="week">
        <div>
          <RisksSection risks={news.risks} />
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
