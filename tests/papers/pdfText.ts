import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";

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

/** How many empty squares a PDF file has to tick, sheet by sheet: paths of four straight sides that are closed. */
export async function squaresOf(file: Buffer): Promise<readonly number[]> {
  const document = await getDocument({ data: new Uint8Array(file), verbosity: 0 }).promise;
  const counts: number[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { fnArray, argsArray } = await (await document.getPage(number)).getOperatorList();
    const squares = argsArray.filter((given, place) => {
      if (fnArray[place] !== OPS.constructPath) return false;
      const [painted, [path]] = given as [number, [Record<string, number>]];
      return painted === OPS.stroke && isSquare(Object.values(path));
    });
    counts.push(squares.length);
  }
  await document.destroy();
  return counts;
}

/** Moved to, three lines and closed, all sides equally long. */
function isSquare(path: readonly number[]): boolean {
  const [move, left = 0, top = 0, , right = 0, , , , bottom = 0, , , , close] = path;
  return path.length === 13 && move === 0 && close === 4 && Math.abs(right - left) === Math.abs(bottom - top);
}

/** Blanks of any kind as one: a paper and its page need not break their lines alike. */
export function plainBlanks(words: string): string {
  return words.replaceAll(/\s+/g, " ").trim();
}
