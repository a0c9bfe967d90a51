import type { LabelCheck } from "../../server/labels/checks.ts";
import type { LabelContent } from "../../server/labels/labelContent.ts";
import { StateMark } from "../components/StateMark.tsx";
import { checkWords } from "./checkWords.ts";

/** Everything that was looked at, each with where the rule stands: what is wrong first. */
export function CheckList({
  checks,
  content,
}: {
  readonly checks: readonly LabelCheck[];
  readonly content: LabelContent;
}) {
  return (
    <section class="label-checks">
      <h2>Looked over</h2>
      <ul class="plain-list">
        {checks.map((check) => {
          const { sentence, source } = checkWords(check, content);
          return (
            <li key={sentence} class="row">
              <StateMark words={verdictWords[check.verdict]} urgent={check.verdict === "broken"} />
              <span class="room-facts">
                {sentence} <span class="aside">{source}</span>
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

const verdictWords: Readonly<Record<LabelCheck["verdict"], string>> = {
  kept: "kept",
  broken: "missing",
  see: "see to it",
  made: "made so",
};
