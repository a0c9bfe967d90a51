import { z } from "zod";
import { idField, textField, wholeNumberField } from "../http/formFields.ts";
import { mostUnitsOfLot } from "../shelf/lot.ts";

export const holdForm = z.object({ reason: textField({ most: 200 }) });

export const releaseForm = z.object({ note: textField({ most: 200 }) });

export const keepForm = z.object({
  orderLineId: idField("Choose an order that wants pieces of this lot."),
  units: wholeNumberField({ least: 1, most: mostUnitsOfLot }),
});
