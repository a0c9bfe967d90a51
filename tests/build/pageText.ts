/** What a page says, without its tags. */
export function textOf(html: string): string {
  return html
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll(/\s+/g, " ")
    .replaceAll(/ ([.,;:])/g, "$1")
    .trim();
}

/** The sentence a page opens with. */
export function headingOf(html: string): string {
  return textOf(/<h1>.*?<\/h1>/s.exec(html)?.[0] ?? "");
}
