import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** What a PDF file says, sheet by sheet, read by a library that did not write it. */
export async function sheetsOf(file: Buffer): Promise<readonly string[]> {
  const document = await getDocument({ data: new Uint8Array(file), useSystemFonts: false, verbosity: 0 })
    .promise;
  const sheets: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent();
    sheets.push(items.map((item) => ("str" in item ? item.str : "")).join(" "));
  }
  await document.destroy();
  return sheets.map((words) => plainBlanks(words));
}

/** Blanks of any kind as one: a paper and its page need not break their lines alike. */
export function plainBlanks(words: string): string {
  return words.replaceAll(/\s+/g, " ").trim();
}
