/** Most characters of a short code. */
export const SHORT_CODE_LENGTH = 40;

/** Whether a text is a short code: lower-case words and digits joined by single hyphens, such as "ball-60". */
export function isShortCode(text: string): boolean {
  return text.length <= SHORT_CODE_LENGTH && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text);
}

/** Letters that Unicode does not take apart into a plain letter and a mark. */
const PLAIN_LETTERS: Readonly<Record<string, string>> = {
  ß: "ss",
  æ: "ae",
  œ: "oe",
  ø: "o",
  đ: "d",
  ð: "d",
  þ: "th",
  ł: "l",
  ı: "i",
};

/**
 * The short code a name suggests: "Cèdre & Amber" gives "cedre-amber". Empty where the name has no letter or digit
 * that can be written so.
 */
export function shortCodeFrom(name: string): string {
  return name
    .toLowerCase()
    .replaceAll(/[ßæœøđðþłı]/g, (letter) => PLAIN_LETTERS[letter] ?? "")
    .normalize("NFKD")
    .replaceAll(/\p{M}|['’]/gu, "")
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, SHORT_CODE_LENGTH)
    .replaceAll(/^-+|-+$/g, "");
}
