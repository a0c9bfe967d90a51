/** "1 piece", "36 pieces". */
export function pieces(units: number): string {
  return counted(units, "piece");
}

/** "1 tray", "3 trays"; an irregular plural is given. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${wholeWords(count)} ${count === 1 ? one : many}`;
}

const SMALL_COUNTS = "no one two three four five six seven eight nine ten eleven twelve".split(" ");

/** "no orders", "one order", "twelve orders", "13 orders": counted as a sentence spells it. */
export function spelled(count: number, one: string, many = `${one}s`): string {
  return `${spelledCount(count)} ${count === 1 ? one : many}`;
}

/** "no", "two", "twelve", "13": the count alone, where its thing was named before. */
export function spelledCount(count: number): string {
  return SMALL_COUNTS[count] ?? wholeWords(count);
}

/** "1 250": thin groups of three, as a number is read at arm's length. */
export function wholeWords(count: number): string {
  return inGroups(count, whole);
}

/** "118 g" or "2.6 kg", from whole milligrams. */
export function weightWords(milligrams: number): string {
  const grams = milligrams / 1000;
  return grams >= 1000 ? `${plainNumber(grams / 1000)} kg` : `${plainNumber(grams)} g`;
}

/** "3 844 g", from whole milligrams: grams however many there are, as a scale shows them. */
export function gramWords(milligrams: number): string {
  return `${plainNumber(milligrams / 1000)} g`;
}

/** A number without superfluous zeros: "0.8", "16", "1 019.5". */
export function plainNumber(amount: number): string {
  return inGroups(amount, withDecimals);
}

/** "3 h 20 min", "45 min". */
export function minutesWords(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  if (hours === 0) return `${whole} min`;
  return whole % 60 === 0 ? `${hours} h` : `${hours} h ${whole % 60} min`;
}

/** "+30" or "−2": what a move adds or takes. */
export function signedWords(units: number): string {
  return units < 0 ? `\u2212${wholeWords(-units)}` : `+${wholeWords(units)}`;
}

// Made once: a formatter costs far more to make than to use.
const whole = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 0 });
const withDecimals = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 3 });

function inGroups(amount: number, format: Intl.NumberFormat): string {
  return format.format(amount).replaceAll(",", "\u202f");
}
