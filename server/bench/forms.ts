import { z } from "zod";
import { choiceField, tickField, wholeNumberField } from "../http/formFields.ts";
import { mostUnitsOfLot } from "../shelf/lot.ts";

const unitsField = wholeNumberField({ least: 0, most: mostUnitsOfLot });

const lossFields = { cracked: unitsField, stuck: unitsField, swollen: unitsField, sample: unitsField };

export const pressingForm = z
  .object({ pressed: unitsField, ...lossFields })
  .transform(({ pressed, ...losses }) => ({ pressed, losses }));

/** What is said when a lot leaves its molds, or has rested. */
export const stepForm = z
  .object({ ...lossFields, feltDry: tickField() })
  .transform(({ feltDry, ...losses }) => ({ feltDry, losses }));

export const putBackForm = z.object({
  state: choiceField(["resting", "ready"], "Say which step was a mistake."),
});
