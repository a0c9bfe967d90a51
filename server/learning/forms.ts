import { z } from "zod";
import { decimalField } from "../http/formFields.ts";
import { shareField } from "../http/moneyFields.ts";
import { MOST_LOSS_BASIS_POINTS } from "./expectedLosses.ts";
import { LEAST_FACTOR, MOST_FACTOR } from "./vapour.ts";

export const lossForm = z.object({ loss: shareField({ most: MOST_LOSS_BASIS_POINTS }) });

export const pressingSecondsForm = z.object({
  formSeconds: decimalField({ least: 0, most: 3600, decimals: 2 }),
});

const celsius = decimalField({ least: 0, most: 50, decimals: 1 });

/** Tenths, as they are kept: one decimal is all that a hygrometer for a workshop tells. */
function airFields(mostHumidity: number) {
  return z
    .object({ celsius, humidity: decimalField({ least: 0.1, most: mostHumidity, decimals: 1 }) })
    .transform((air) => ({
      celsiusTenths: Math.round(air.celsius * 10),
      humidityTenths: Math.round(air.humidity * 10),
    }));
}

export const readingForm = airFields(100);

/** Nothing dries in saturated air, so that no reference day can have it. */
export const referenceForm = airFields(99.9);

export const factorForm = z.object({
  dryingFactor: decimalField({ least: LEAST_FACTOR, most: MOST_FACTOR, decimals: 2 }),
});
