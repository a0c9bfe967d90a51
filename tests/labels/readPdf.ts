import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";

/** Millimetres in a point of a PDF. */
const MILLIMETRES = 25.4 / 72;

/** Words as they stand on a page, measured in millimetres from its upper left corner. */
export interface PrintedWords {
  readonly words: string;
  readonly left: number;
  readonly width: number;
  readonly baseline: number;
  /** Of the em. */
  readonly size: number;
}

/** A filled rectangle, measured alike. */
export interface PrintedSquare {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface PrintedPage {
  readonly width: number;
  readonly height: number;
  readonly words: readonly PrintedWords[];
  readonly squares: readonly PrintedSquare[];
}

/** Reads a PDF with another library than the one that wrote it. */
export async function readPdf(pdf: Buffer): Promise<readonly PrintedPage[]> {
  const loading = getDocument({ data: new Uint8Array(pdf), verbosity: 0 });
  const document = await loading.promise;
  const pages = await Promise.all(
    Array.from({ length: document.numPages }, (_, place) => readPage(document, place + 1)),
  );
  await loading.destroy();
  return pages;
}

type Document = Awaited<ReturnType<typeof getDocument>["promise"]>;

async function readPage(document: Document, number: number): Promise<PrintedPage> {
  const page = await document.getPage(number);
  const [left = 0, bottom = 0, right = 0, top = 0] = page.view;
  const { items } = await page.getTextContent();
  const words = items.flatMap((item) => {
    if (!("str" in item) || item.str.trim() === "") return [];
    const [, , , size, x, y] = item.transform as number[];
    return [
      {
        words: item.str,
        left: ((x ?? 0) - left) * MILLIMETRES,
        width: item.width * MILLIMETRES,
        baseline: (top - (y ?? 0)) * MILLIMETRES,
        size: (size ?? 0) * MILLIMETRES,
      },
    ];
  });
  return {
    width: (right - left) * MILLIMETRES,
    height: (top - bottom) * MILLIMETRES,
    words,
    squares: await squaresOn(page, top),
  };
}

/** Every rectangle that is painted: moved to, three lines, closed. Throws where a path has another form. */
async function squaresOn(
  page: Awaited<ReturnType<Document["getPage"]>>,
  top: number,
): Promise<readonly PrintedSquare[]> {
  const { fnArray, argsArray } = await page.getOperatorList();
  // The writer turns the page upside down once, so that what follows is measured from its upper edge.
  const turned: unknown = argsArray[fnArray.indexOf(OPS.transform)];
  if (JSON.stringify(turned) !== JSON.stringify([1, 0, 0, -1, 0, top]))
    throw new Error("The page is not turned");
  const paths = argsArray.filter((_, place) => fnArray[place] === OPS.constructPath);
  return paths.flatMap(([, [drawn]]: [unknown, [Record<string, number>]]) =>
    rectanglesOf(Object.values(drawn)),
  );
}

/** Numbers of a rectangle's path: each corner behind the number of its operator, and the closing one. */
const RECTANGLE = 13;

function rectanglesOf(drawn: readonly number[]): readonly PrintedSquare[] {
  return Array.from({ length: drawn.length / RECTANGLE }, (_, place) => {
    const path = drawn.slice(place * RECTANGLE, (place + 1) * RECTANGLE);
    if ([path[0], path[3], path[6], path[9], path[12]].join() !== "0,1,1,1,4")
      throw new Error("No rectangle");
    const [, x = 0, y = 0, , , , , right = 0, bottom = 0] = path;
    return {
      left: x * MILLIMETRES,
      top: y * MILLIMETRES,
      width: (right - x) * MILLIMETRES,
      height: (bottom - y) * MILLIMETRES,
    };
  });
}
