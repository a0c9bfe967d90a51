import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import {
  type Advice,
  adviceDetails,
  adviceHeadline,
  type GivenAdvice,
  noAdviceWords,
} from "./promiseWords.ts";

/** When what stands in the form can be promised: the fragment that follows the typing, and part of the page without it. */
export function PromiseAdvice({ advice }: { readonly advice: Advice }) {
  if (advice.is === "nothing-typed")
    return <p class="hint">Fill in a line, and here stands when it can be promised.</p>;
  if (advice.is === "none") return <p class="notice">{noAdviceWords(advice.why)}</p>;
  const isKept = advice.earliest !== null && advice.instead === null;
  return (
    <div class={isKept ? "promise kept" : "promise not-kept"}>
      <p>
        <strong>{adviceHeadline(advice)}</strong>
      </p>
      {adviceDetails(advice).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {!isKept && advice.carried !== null && (
        <p class="hint">
          The decision is yours: confirmed all the same, the order keeps this advice beside it.
        </p>
      )}
      <CarriedAdvice advice={advice} />
    </div>
  );
}

/** So that the order can tell later what was advised, and that it was advised for just these lines. */
function CarriedAdvice({ advice: { earliest, carried } }: { readonly advice: GivenAdvice }) {
  if (carried === null) return null;
  return (
    <>
      <input type="hidden" name="advised_ship_by" value={earliest ?? "none"} />
      <input type="hidden" name="advised_at" value={carried.at.toISOString()} />
      <input type="hidden" name="advised_for" value={carried.forLines} />
      <input type="hidden" name="advised_seal" value={carried.seal} />
    </>
  );
}

const CARRIED = ["advised_ship_by", "advised_at", "advised_for", "advised_seal"] as const;

/** The advice a form was given before it came back with something else to say. */
export function AdviceKept({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      {CARRIED.filter((name) => typedText(answer, name) !== "").map((name) => (
        <input key={name} type="hidden" name={name} value={typedText(answer, name)} />
      ))}
    </>
  );
}
