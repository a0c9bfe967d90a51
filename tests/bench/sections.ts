import { growthSection } from "./sections/growth.ts";
import { plansSection } from "./sections/knownCases.ts";
import { orderFileSection } from "./sections/orderFile.ts";
import { publishedSection } from "./sections/published.ts";
import { questionSection } from "./sections/questions.ts";
import { recordsSection } from "./sections/records.ts";
import type { Section } from "./sections/section.ts";
import { tinySection } from "./sections/tiny.ts";
import { typingSection } from "./sections/typing.ts";
import { worksSection } from "./sections/works.ts";

/** Everything the planner is measured by, in the order of the results. */
const planner: readonly Section[] = [
  tinySection(),
  plansSection("weeks", "Weeks", 2, (file) => file.startsWith("week-")),
  plansSection("damp", "Damp weeks", 2, (file) => file.startsWith("damp-")),
  plansSection("fortnights", "Fortnights", 5, (file) => file.startsWith("fortnight-")),
  plansSection("season", "Season", 10, (file) => file.startsWith("season-")),
  plansSection("named", "Named cases", 2, (file) => !/^(week|damp|fortnight|season)-/.test(file)),
  publishedSection(),
  worksSection(),
  questionSection("holdups", "What holds us up, all resources", "holdUps"),
  questionSection("promise", "When can I promise it", "promise"),
  typingSection(),
  growthSection(),
  orderFileSection(),
];

/** What can be measured, by its name on the command line, in the order of the results. */
export const targets: ReadonlyMap<string, readonly Section[]> = new Map([
  ["planner", planner],
  ["records", [recordsSection()]],
]);
