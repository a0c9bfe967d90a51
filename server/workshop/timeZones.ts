/** UTC stands first: the list of the platform (ECMA-402, 6.5) holds only zones of places. */
const known: readonly string[] = [
  "UTC",
  ...Intl.supportedValuesOf("timeZone").filter((zone) => zone !== "UTC"),
];

/** The IANA time zones to choose from, UTC first, then by name. A zone already chosen stays in the list. */
export function timeZones(chosen?: string): readonly string[] {
  return chosen === undefined || chosen === "" || known.includes(chosen) || !isTimeZone(chosen)
    ? known
    : [chosen, ...known];
}

/** The zone the server itself runs in: the best guess for a new workshop. */
export function ownTimeZone(): string {
  // Undefined on a machine whose TZ names no zone, whatever the types say.
  const zone: string | undefined = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  return zone !== undefined && isTimeZone(zone) ? zone : "UTC";
}

/** Whether the platform knows a zone by this name; older names of a zone are known too, offsets such as "+01:00" not. */
export function isTimeZone(name: string): boolean {
  if (!/^[A-Za-z][A-Za-z0-9_+-]*(\/[A-Za-z0-9_+-]+)*$/.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en-GB", { timeZone: name });
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}
