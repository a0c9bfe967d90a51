/** What stands in a tracking address where the number of the parcel goes. */
export const NUMBER_PLACE = "{number}";

/**
 * What keeps a text from being an address under which parcels are followed; null where nothing does. It is asked for
 * over TLS, its number stands behind the host, so that no number ever leads to another one, and it names no password.
 */
export function trackingPatternFault(
  pattern: string,
): "no-number" | "not-https" | "number-in-host" | "unreadable" | null {
  if (!pattern.startsWith("https://")) return "not-https";
  if (!pattern.includes(NUMBER_PLACE)) return "no-number";
  const [one, other] = [read(pattern, "1"), read(pattern, "2")];
  if (!one || !other || /[\s"<>\\^`|]/.test(pattern) || one.username !== "" || one.password !== "")
    return "unreadable";
  return one.origin === other.origin ? null : "number-in-host";
}

/** Where a parcel is followed; null where its carrier has no such address, or it has no number. */
export function trackingAddress(pattern: string, number: string): string | null {
  if (number === "" || trackingPatternFault(pattern) !== null) return null;
  return read(pattern, number)?.href ?? null;
}

function read(pattern: string, number: string): URL | null {
  const address = pattern.replaceAll(NUMBER_PLACE, () => encodeURIComponent(number));
  return URL.canParse(address) ? new URL(address) : null;
}
