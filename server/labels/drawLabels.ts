import PDFDocument from "pdfkit";
import { faceFeatures, faceFiles } from "./faces.ts";
import type { Line } from "./layout.ts";
import { INCH_MICROMETRES, placesFrom, type SheetSize } from "./sheet.ts";

/** A code's dark squares, row by row, without its quiet zone. */
export interface CodeSquares {
  readonly side: number;
  isDark(row: number, column: number): boolean;
}

/** A code on a label: its upper left corner from that of the label, and its width without the quiet zone. */
export interface PlacedCode {
  readonly squares: CodeSquares;
  readonly left: number;
  readonly top: number;
  readonly width: number;
}

/** What is printed on one label; places are micrometres from its upper left corner. */
export interface LabelFace {
  readonly lines: readonly Omit<Line<string>, "role">[];
  readonly code?: PlacedCode;
}

/** Points, 72 to the inch, in which a PDF measures (ISO 32000-1, 8.3.2.3). */
const POINTS = 72 / INCH_MICROMETRES;

interface Printed {
  readonly title: string;
  readonly sheet: SheetSize;
  /** The first label of the first page, from 1. */
  readonly first: number;
  readonly faces: readonly LabelFace[];
}

/** The sheets as a PDF at exact size, as many pages as the labels need. */
export async function drawLabels({ title, sheet, first, faces }: Printed): Promise<Buffer> {
  const document = new PDFDocument({
    autoFirstPage: false,
    size: [sheet.paperWidthMicrometres * POINTS, sheet.paperHeightMicrometres * POINTS],
    margin: 0,
    info: { Title: title },
  });
  const done = collect(document);
  for (const [face, file] of Object.entries(faceFiles)) document.registerFont(face, file);
  let printed = 0;
  for (const page of placesFrom(sheet, first, faces.length)) {
    document.addPage();
    for (const { leftMicrometres, topMicrometres } of page) {
      const face = faces[printed++];
      if (face) drawFace(document, face, leftMicrometres, topMicrometres);
    }
  }
  document.end();
  return await done;
}

function drawFace(document: PDFKit.PDFDocument, { lines, code }: LabelFace, left: number, top: number): void {
  for (const line of lines) {
    document
      .font(line.weight)
      .fontSize(line.size * POINTS)
      .text(line.words, (left + line.left) * POINTS, (top + line.baseline) * POINTS, {
        baseline: "alphabetic",
        lineBreak: false,
        features: [...faceFeatures],
      });
  }
  if (code) drawCode(document, code, left, top);
}

/** All squares as one path: drawn one by one, hairs of white would stand between them. */
function drawCode(document: PDFKit.PDFDocument, code: PlacedCode, left: number, top: number): void {
  const { squares, width } = code;
  const one = (width / squares.side) * POINTS;
  for (let row = 0; row < squares.side; row++) {
    for (let column = 0; column < squares.side; column++) {
      if (!squares.isDark(row, column)) continue;
      document.rect(
        (left + code.left) * POINTS + column * one,
        (top + code.top) * POINTS + row * one,
        one,
        one,
      );
    }
  }
  document.fill("black");
}

function collect(document: PDFKit.PDFDocument): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    document.on("data", (part: Buffer) => parts.push(part));
    document.on("end", () => resolve(Buffer.concat(parts)));
    document.on("error", reject);
  });
}
