import { shareWords } from "../format/money.ts";

export interface ShownScent {
  readonly name: string;
  /** Of the dry piece. */
  readonly sharePpm: number;
  readonly limitPpm: number | null;
  readonly verdict: "within" | "above" | "unknown";
  readonly source: string | null;
}

/** How each scent oil stands against what its supplier allows. That no limit has been entered is said out loud. */
export function ScentVerdicts({
  scents,
  category,
  limitsShared,
}: {
  readonly scents: readonly ShownScent[];
  readonly category: string;
  readonly limitsShared: boolean;
}) {
  if (scents.length === 0) return null;
  return (
    <section class="scents" aria-label="Scent oils">
      <h2>Scent oils</h2>
      {scents.map((scent) => (
        <p key={scent.name} class={scent.verdict === "within" ? undefined : "caution"}>
          {verdictSentence(scent, category)}
        </p>
      ))}
      {limitsShared && (
        <p class="caution">
          Together these scent oils use more than the whole of their limits. Ask their supplier whether the
          mixture is still allowed.
        </p>
      )}
    </section>
  );
}

function verdictSentence({ name, sharePpm, limitPpm, verdict, source }: ShownScent, category: string) {
  const share = `${name} is ${shareWords(Math.ceil(sharePpm / 100))} of the dry piece`;
  if (verdict === "unknown" || limitPpm === null)
    return `No limit has been entered for ${name} in category ${category}. It is ${shareWords(Math.ceil(sharePpm / 100))} of the dry piece, and nothing here says whether that is safe.`;
  const allowed = `at most ${shareWords(limitPpm / 100)} in category ${category} (${source ?? ""})`;
  return verdict === "above"
    ? `Do not mix this: ${share}, its supplier allows ${allowed}.`
    : `${share}; its supplier allows ${allowed}.`;
}
