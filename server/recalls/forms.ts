import { z } from "zod";
import { choiceField, idField, textField, wholeNumberField } from "../http/formFields.ts";
import { mostUnitsOfLot } from "../shelf/lot.ts";
import { noticeWays } from "./recordNotice.ts";

export const recallForm = z.object({
  kind: choiceField(["lot", "supply-lot"], "Say what is recalled."),
  id: idField("Say what is recalled."),
  reason: textField({ most: 200 }),
});

export const endForm = z.object({ note: textField({ most: 200 }) });

/** One form for each of whom to tell, all on one page: which one was sent is said by `customerId`. */
export const noticeForm = z.object({
  customerId: idField("Choose whom you told."),
  how: choiceField(noticeWays, "Choose how they were told."),
  said: textField({ most: 500, blank: true }),
  unitsBack: wholeNumberField({ least: 0, most: mostUnitsOfLot }),
});
