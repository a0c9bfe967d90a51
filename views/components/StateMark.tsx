/** A state in words. Urgent ones stand out by weight and frame, not by colour alone. */
export function StateMark({ words, urgent = false }: { readonly words: string; readonly urgent?: boolean }) {
  return <span class={urgent ? "state urgent" : "state"}>{words}</span>;
}
