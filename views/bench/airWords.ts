import type { AirFigures, ReadAir, Suggestion } from "../../server/learning/air.ts";
import { counted, plainNumber } from "../format/quantities.ts";

/** "18.5 °C, 75 % relative humidity". */
export function airWords({ celsiusTenths, humidityTenths }: ReadAir): string {
  return `${plainNumber(celsiusTenths / 10)}\u202f°C, ${plainNumber(humidityTenths / 10)}\u202f% relative humidity`;
}

/** The page's answer in a sentence. */
export function airHeadline({ readings, reference, suggestion, plannedFactor }: AirFigures): string {
  if (suggestion === null)
    return reference !== null || readings.length === 0
      ? "What is the air like today?"
      : "Which air are your drying times for?";
  const { factor } = suggestion;
  const today =
    factor === 1
      ? "Today's air dries as your reference day's"
      : `Today's air suggests drying ${plainNumber(factor)} times as long as usual`;
  return factor === plannedFactor
    ? `${today}, and so it is planned.`
    : `${today}; planned is ${plainNumber(plannedFactor)}.`;
}

/** "1.17 kPa". */
export function pressureWords(pascals: number): string {
  return `${(pascals / 1000).toFixed(2)}\u202fkPa`;
}

/** "1.17 kPa / 0.52 kPa × 0.9 = 2.05", with the learned ratio where there is one. */
export function formulaWords({ factor, reading, referenceDeficit, ratio }: Suggestion): string {
  const parts = `${pressureWords(referenceDeficit)} / ${pressureWords(reading.deficit)}`;
  const learned = ratio === null ? "" : ` × ${ratio.ratio.toFixed(2)}`;
  return `${parts}${learned} ≈ ${plainNumber(factor)}`;
}

/** What drying really took, as far as lots have told. */
export function ratioWords({ ratio }: Suggestion): string {
  if (ratio === null)
    return "No lot has told yet how drying here compares with the formula: one has to be pressed on a day with a reading, and leave its molds.";
  const { low, high, batches, foundDamp } = ratio;
  const damp = foundDamp === 0 ? "none of them ever found damp" : `${foundDamp} of them found damp at a look`;
  return `Drying here took ${ratio.ratio.toFixed(2)} times as long as the formula says, nine times in ten ${low.toFixed(2)} to ${high.toFixed(2)}; ${counted(batches, "lot")}, ${damp}.`;
}

/** From here on the acid takes up water by itself, in tenths of a per cent. */
const TOO_DAMP_TENTHS = 750;

export function isTooDamp({ humidityTenths }: ReadAir): boolean {
  return humidityTenths >= TOO_DAMP_TENTHS;
}
