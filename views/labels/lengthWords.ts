const INCH_MICROMETRES = 25_400;

/** "40 mm" or "1.5 in", in the unit a sheet was measured in. */
export function lengthWords(micrometres: number, unit: "mm" | "in"): string {
  return `${lengthNumber(micrometres, unit)} ${unit}`;
}

/** "1.5 × 1.5 in"; "2.5 in round". */
export function labelSizeWords(sheet: {
  readonly labelWidthMicrometres: number;
  readonly labelHeightMicrometres: number;
  readonly isRound: boolean;
  readonly unit: "mm" | "in";
}): string {
  const { labelWidthMicrometres: width, labelHeightMicrometres: height, isRound, unit } = sheet;
  if (isRound && width === height) return `${lengthWords(width, unit)} round`;
  return `${lengthNumber(width, unit)} × ${lengthWords(height, unit)}${isRound ? " oval" : ""}`;
}

/** "12.4 mm", for what is over. */
export function millimetreWords(micrometres: number): string {
  return `${Math.ceil(micrometres / 100) / 10} mm`;
}

/** "1.59 mm", for the height of a letter: rounded down, so that none is told taller than it is. */
export function letterHeightWords(micrometres: number): string {
  return `${Math.floor(micrometres / 10) / 100} mm`;
}

function lengthNumber(micrometres: number, unit: "mm" | "in"): number {
  return unit === "mm" ? micrometres / 1000 : Math.round((micrometres / INCH_MICROMETRES) * 1000) / 1000;
}
