import type { Promptness } from "../../server/orders/order.ts";
import { StateMark } from "../components/StateMark.tsx";
import { counted } from "../format/quantities.ts";

/** How an order stands against its date, where that needs saying: "late by 2 days", "due today". */
export function PromptnessMark({ promptness }: { readonly promptness: Promptness }) {
  if (promptness.kind === "late")
    return <StateMark words={`late by ${counted(promptness.days, "day")}`} urgent />;
  return promptness.kind === "today" ? <StateMark words="due today" urgent /> : null;
}
