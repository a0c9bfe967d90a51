import { dayWords } from "../format/dates.ts";
import { counted, minutesWords, pieces, plainNumber, wholeWords } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";
import { pieceDays } from "./planWords.ts";
import type { WhatIfFigures } from "./whatIfFigures.ts";

/** "With 30 Ball 60 mold sets: everything ships on time, instead of 84 piece-days late." */
export function whatIfHeadline(whatIf: WhatIfFigures): string {
  return sentence(`${differenceWords(whatIf)}: ${effectWords(whatIf)}`);
}

function differenceWords(whatIf: WhatIfFigures): string {
  const { molds, trays, mixers, handMinutes, damp, without, added } = whatIf;
  const withThese = listed(
    [
      molds && `${counted(molds.sets, "mold set")} of ${molds.shape}`,
      trays !== null && counted(trays, "tray"),
      mixers !== null && counted(mixers, "mixer"),
      handMinutes !== null && handsWords(handMinutes),
      added && `${pieces(added.units)} more of ${added.product} by ${dayWords(added.shipBy)}`,
      damp && `drying ${plainNumber(damp.factor)} times as long on ${dayWords(damp.date)}`,
    ].filter((words) => typeof words === "string"),
  );
  const parts = [withThese === "" ? "" : `with ${withThese}`, without === null ? "" : `without ${without}`];
  return parts.filter((words) => words !== "").join(" and ");
}

function handsWords(minutes: number): string {
  const change = minutes < 0 ? "less" : "more";
  return `${minutesWords(Math.abs(minutes))} ${change} of hands in every session`;
}

function effectWords({ today, changed }: WhatIfFigures): string {
  const saved = today.cost - changed.cost;
  if (Math.abs(saved) < 1e-6) {
    return changed.cost === 0
      ? "everything still ships on time"
      : `still late by ${pieceDays(changed.cost)}, no less and no more`;
  }
  if (changed.cost === 0) return `everything ships on time, instead of ${pieceDays(today.cost)} late`;
  const [change, amount] = saved > 0 ? ["less", saved] : ["more", -saved];
  return `${pieceDays(amount)} ${change} lateness, ${wholeWords(changed.cost)} instead of ${wholeWords(today.cost)}`;
}
