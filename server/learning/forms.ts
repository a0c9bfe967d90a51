import { z } from "zod";
import { decimalField } from "../http/formFields.ts";
import { shareField } from "../http/moneyFields.ts";
import { MOST_LOSS_BASIS_POINTS } from "./expectedLosses.ts";

export const lossForm = z.object({ loss: shareField({ most: MOST_LOSS_BASIS_POINTS }) });

export const pressingSecondsForm = z.object({
  formSeconds: decimalField({ least: 0, most: 3600, decimals: 2 }),
});
