import { type Table, toMarkdown } from "./table.ts";

/** When, on what and how a section was measured. */
export interface Circumstances {
  /** `YYYY-MM-DD HH:MM`, UTC. */
  readonly date: string;
  readonly commit: string;
  readonly machine: string;
  readonly command: string;
  readonly seeds: readonly number[];
  /** Shares of one core the measuring processes got, 0 to 1. */
  readonly coreShares: readonly number[];
}

export interface Measured {
  readonly name: string;
  readonly title: string;
  readonly method: readonly string[];
  readonly circumstances: Circumstances;
  readonly table: Table;
}

const opening = `# Results

Written by \`npm run bench\`; do not edit. A section is replaced when it is measured again, so each says for itself when, on
what and how. Costs are unit-days late, minutes are hand minutes; smaller is better.
`;

/** Below this share of a core somebody else was in the way. */
const quietShare = 0.9;

/**
 * The results with these sections in place of their older selves and all others left as they are, in the order of
 * `names`. Sections of other names are kept at the end.
 */
export function withSections(
  results: string,
  names: readonly string[],
  measured: readonly Measured[],
): string {
  const kept = new Map<string, string>();
  for (const part of results.split(/^(?=## )/m).filter((each) => each.startsWith("## "))) {
    kept.set(/^<!-- (\S+) -->$/m.exec(part)?.[1] ?? part, part.trimEnd());
  }
  for (const section of measured) kept.set(section.name, sectionText(section));
  const ordered = [
    ...names.filter((name) => kept.has(name)),
    ...[...kept.keys()].filter((name) => !names.includes(name)),
  ];
  return `${[opening.trimEnd(), ...ordered.map((name) => kept.get(name))].join("\n\n")}\n`;
}

function sectionText({ name, title, method, circumstances, table }: Measured): string {
  const { date, commit, machine, command, seeds } = circumstances;
  return [
    `## ${title}`,
    `<!-- ${name} -->`,
    `${date} UTC, commit ${commit}, ${machine}, \`${command}\`, seeds ${seeds.join(", ")}.`,
    toMarkdown(table),
    [...method, ...loadNotes(circumstances.coreShares)].map((sentence) => `- ${sentence}`).join("\n"),
  ].join("\n\n");
}

/** Nothing where no section told its share, as its times are not the processor's. */
function loadNotes(coreShares: readonly number[]): readonly string[] {
  return coreShares.length === 0 ? [] : [loadNote(coreShares)];
}

/** Seconds of the processor don't count what others take of it, but a shared cache does, and the reader is told. */
function loadNote(shares: readonly number[]): string {
  const least = Math.min(...shares);
  const mean = shares.reduce((sum, share) => sum + share, 0) / Math.max(1, shares.length);
  const words = `All times are seconds of the processor. The measuring processes had ${percent(mean)} of a core on average, ${percent(least)} at worst`;
  return mean >= quietShare
    ? `${words}: a quiet machine, on which they pass like those of the wall clock.`
    : `${words}. **Measured under load**: on a quiet machine the same takes somewhat less.`;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
