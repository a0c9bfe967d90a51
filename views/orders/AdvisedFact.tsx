import { momentWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { advisedWords } from "./promiseWords.ts";

/** What was advised when the order was promised, and who promised it all the same. */
interface ShownAdvice {
  /** Null with a time: no safe date was found. */
  readonly advisedShipBy: string | null;
  readonly advisedAt: Date | null;
  /** Who confirmed it although the advice said otherwise. */
  readonly againstAdviceBy: string | null;
}

export function AdvisedFact({ advice }: { readonly advice: ShownAdvice }) {
  const { workshop } = usePageContext();
  if (advice.advisedAt === null) return null;
  return (
    <div>
      <dt>Earliest safe date then</dt>
      <dd>
        {advisedWords(advice.advisedShipBy)}
        <br />
        <span class="aside">
          found {momentWords(advice.advisedAt, workshop?.timeZone ?? "UTC")}
          {advice.againstAdviceBy !== null && `; promised all the same by ${advice.againstAdviceBy}`}
        </span>
      </dd>
    </div>
  );
}
