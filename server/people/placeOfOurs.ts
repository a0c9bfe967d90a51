const OURS = "http://halfmold.invalid";

/**
 * Where to lead somebody who has signed in: the place she was on her way to, read as a browser would read it, or the
 * week where that would leave the workshop. Browsers pass over tabs and line breaks and undo "..", so that "/<tab>/x"
 * and "/.//x" are other sites just as "//x" is.
 */
export function placeOfOurs(next: string): string {
  if (!next.startsWith("/") || !URL.canParse(next, OURS)) return "/week";
  const { origin, pathname, search } = new URL(next, OURS);
  return origin === OURS && !pathname.startsWith("//") ? pathname + search : "/week";
}
