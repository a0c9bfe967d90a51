import type { Caution } from "../../server/recipes/cautions.ts";
import { cautionWords } from "./recipeWords.ts";

/** The cautions that what is in a recipe calls for. */
export function ContentCautions({ cautions }: { readonly cautions: readonly Caution[] }) {
  return (
    <aside class="caution" aria-label="Take care">
      {cautions.map((caution) => (
        <p key={caution}>
          <strong>{cautionWords[caution].name}</strong> {cautionWords[caution].words}
        </p>
      ))}
      <p class="aside">These are the usual cautions. Local rules and qualified advice come first.</p>
    </aside>
  );
}
