import { z } from "zod";
import { choiceField, tickField, wholeNumberField } from "../http/formFields.ts";
import { mostUnitsOfLot } from "../shelf/lot.ts";
import { bowlSteps } from "./bowlSteps.ts";

const MOST_BOWLS = 10_000;
/** Every quarter of an hour for ten days. */
const MOST_TURNINGS = 1_000;

const unitsField = wholeNumberField({ least: 0, most: mostUnitsOfLot });

const lossFields = { cracked: unitsField, stuck: unitsField, swollen: unitsField, sample: unitsField };

export const pressingForm = z
  .object({ pressed: unitsField, ...lossFields })
  .transform(({ pressed, ...losses }) => ({ pressed, losses }));

/** What is said when a lot leaves its molds, or has rested. */
export const stepForm = z
  .object({ ...lossFields, feltDry: tickField() })
  .transform(({ feltDry, ...losses }) => ({ feltDry, losses }));

/** Which bowl is one step further, or was taken a step too far. */
export const bowlStepForm = z.object({
  bowl: wholeNumberField({ least: 1, most: MOST_BOWLS }),
  step: choiceField(bowlSteps, "Say which step of the bowl is meant."),
});

/** Which turning of a lot is meant; the first is 1. */
export const turningForm = z.object({ turning: wholeNumberField({ least: 1, most: MOST_TURNINGS }) });

export const putBackForm = z.object({
  state: choiceField(["resting", "ready"], "Say which step was a mistake."),
});
