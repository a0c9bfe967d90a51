import { createRequire } from "node:module";
import PDFDocument from "pdfkit";
import { type Paper, type PaperCell, paperTitle } from "../../views/papers/paper.ts";

/*
 * A paper as a PDF file, made here and nowhere else: the words come from the paper, only their places are found here.
 * Lengths are in points, 72 to the inch.
 */

/** Alegreya Sans, as on the pages, under the SIL Open Font License: Latin, Greek and Cyrillic, signs and currencies. */
const fonts = createRequire(import.meta.url);
const REGULAR = fonts.resolve("@expo-google-fonts/alegreya-sans/400Regular/AlegreyaSans_400Regular.ttf");
const BOLD = fonts.resolve("@expo-google-fonts/alegreya-sans/700Bold/AlegreyaSans_700Bold.ttf");

const MARGIN = 57;
const TEXT = 10.5;
const SMALL = 9;
const INK = "#2a221c";
const FADED = "#64574b";
const RULE = "#92816b";
/** Figures of one height and width, so that columns add up to the eye. */
const FIGURES: PDFKit.Mixins.OpenTypeFeatures[] = ["lnum", "tnum", "kern"];
/** Between two columns of a table. */
const GAP = 12;
/** Side of a square to tick, what it takes before the words, and between two of them: a pen in a gloved hand. */
const TICK = 11;
const TICK_INDENT = TICK + 6;
const TICK_GAP = 4;

/**
 * The file of a paper on sheets of the given size, as many as it takes, each with the shop's words at its foot. The same
 * paper makes the same file, byte for byte.
 */
export async function drawPaper(paper: Paper, size: "A4" | "Letter"): Promise<Buffer> {
  const document = new PDFDocument({
    size: size === "A4" ? "A4" : "LETTER",
    margins: { top: MARGIN, left: MARGIN, right: MARGIN, bottom: MARGIN + footHeight(paper) },
    bufferPages: true,
    lang: "en",
    displayTitle: true,
    info: {
      Title: paperTitle(paper),
      Author: paper.shop.name,
      CreationDate: new Date(`${paper.dated}T12:00:00Z`),
      ModDate: new Date(`${paper.dated}T12:00:00Z`),
    },
  });
  const file = collect(document);
  document.registerFont("regular", REGULAR).registerFont("bold", BOLD).fillColor(INK);
  drawHead(document, paper);
  drawAddress(document, paper);
  if (paper.rows.length > 0) drawRows(document, paper);
  drawSums(document, paper);
  drawNotes(document, paper);
  drawFeet(document, paper);
  document.end();
  return await file;
}

type Sheet = PDFKit.PDFDocument;

function collect(document: Sheet): Promise<Buffer> {
  const chunks: Buffer[] = [];
  return new Promise((resolve, reject) => {
    document.on("data", (chunk: Buffer) => chunks.push(chunk));
    document.on("end", () => resolve(Buffer.concat(chunks)));
    document.on("error", reject);
  });
}

interface Place {
  readonly x: number;
  readonly y?: number;
  readonly width: number;
  readonly align?: "left" | "right" | "center";
  readonly font?: "regular" | "bold";
  readonly size?: number;
  readonly colour?: string;
}

/** Writes words into a column and returns where they end below. */
function write(document: Sheet, words: string, place: Place): number {
  const { x, y = document.y, width, align = "left", font = "regular", size = TEXT, colour = INK } = place;
  document.font(font, size).fillColor(colour);
  document.text(drawable(words), x, y, { width, align, features: FIGURES });
  return document.y;
}

function heightOf(
  document: Sheet,
  words: string,
  { width, font = "regular", size = TEXT }: Omit<Place, "x">,
): number {
  return words === ""
    ? 0
    : document.font(font, size).heightOfString(drawable(words), { width, features: FIGURES });
}

function widthOf(document: Sheet, words: string, font: "regular" | "bold", size = TEXT): number {
  return document.font(font, size).widthOfString(drawable(words), { features: FIGURES });
}

/** The font has no narrow blank that does not break; a whole one stands in for it. */
function drawable(words: string): string {
  return words.replaceAll("\u202f", "\u00a0").replaceAll("\r\n", "\n");
}

function innerWidth(document: Sheet): number {
  return document.page.width - 2 * MARGIN;
}

/** The shop to the left, what the paper is and its facts to the right. */
function drawHead(document: Sheet, { shop, name, number, facts }: Paper): void {
  const width = innerWidth(document);
  const half = width / 2 - GAP;
  const right = { x: MARGIN + width / 2, width: width / 2 };
  const top = document.y;
  write(document, shop.name, { x: MARGIN, y: top, width: half, font: "bold", size: 17 });
  for (const words of [shop.address, shop.taxNumber])
    if (words !== "") write(document, words, { x: MARGIN, width: half, size: SMALL });
  const leftEnd = document.y;
  let y = write(document, `${name} ${number}`, { ...right, y: top, font: "bold", size: 15 }) + 4;
  const label = Math.max(0, ...facts.map(([fact]) => widthOf(document, fact, "regular", SMALL))) + GAP;
  for (const [fact, words] of facts) {
    const beside = { x: right.x + label, y, width: right.width - label };
    write(document, fact, { ...right, y: y + 1, size: SMALL, colour: FADED });
    y = write(document, words, { ...beside, font: "bold" });
  }
  document.y = Math.max(leftEnd, y) + 8;
  drawRule(document, 1.2);
}

function drawRule(document: Sheet, thickness: number): void {
  const { y } = document;
  document
    .moveTo(MARGIN, y)
    .lineTo(document.page.width - MARGIN, y)
    .lineWidth(thickness)
    .strokeColor(RULE)
    .stroke();
  document.y = y + 8;
}

function drawAddress(document: Sheet, { to }: Paper): void {
  const place = { x: MARGIN, width: innerWidth(document) / 2 };
  document.y += 8;
  write(document, to.heading ?? "To", { ...place, size: SMALL, colour: FADED });
  write(document, to.name, { ...place, font: "bold" });
  if (to.address !== "") write(document, to.address, place);
  document.y += 18;
}

/** The left edge and the width of each column: as wide as their words, the wide one takes what is left. */
function columnsOf(document: Sheet, { columns, rows }: Paper): readonly { x: number; width: number }[] {
  const most = innerWidth(document) * 0.3;
  const wanted = columns.map(({ name }, column) => {
    const words = rows.flatMap(({ cells }) => {
      const cell = cells[column];
      const indent = cell?.ticked ? TICK_INDENT : 0;
      return [
        ...linesOf(cell?.words ?? "").map((line) => widthOf(document, line, "regular") + indent),
        widthOf(document, cell?.aside ?? "", "regular", SMALL),
      ];
    });
    return Math.min(most, Math.max(widthOf(document, name, "bold", SMALL), ...words) + 2);
  });
  const wide = Math.max(
    0,
    columns.findIndex((column) => column.wide),
  );
  const others = wanted.reduce((sum, width, column) => (column === wide ? sum : sum + width + GAP), 0);
  const widths = wanted.with(wide, innerWidth(document) - others);
  let x = MARGIN;
  return widths.map((width) => {
    const place = { x, width };
    x += width + GAP;
    return place;
  });
}

function drawRows(document: Sheet, paper: Paper): void {
  const places = columnsOf(document, paper);
  drawColumnNames(document, paper, places);
  for (const { cells } of paper.rows) {
    const height = Math.max(
      ...cells.map((cell, column) => {
        const width = places[column]?.width ?? 0;
        return (
          cellHeight(document, cell, width) + heightOf(document, cell.aside ?? "", { width, size: SMALL })
        );
      }),
    );
    if (document.y + height > document.page.height - document.page.margins.bottom) {
      document.addPage();
      drawColumnNames(document, paper, places);
    }
    const top = document.y;
    for (const [column, { words, aside = "", ticked }] of cells.entries()) {
      const place = places[column] ?? { x: MARGIN, width: 0 };
      const align = paper.columns[column]?.number ? "right" : "left";
      if (ticked) writeTicked(document, words, { ...place, y: top });
      else write(document, words, { ...place, y: top, align });
      if (aside !== "") write(document, aside, { ...place, align, size: SMALL, colour: FADED });
    }
    document.y = top + height + 3;
    drawRule(document, 0.4);
    document.y -= 4;
  }
}

const linesOf = (words: string) => words.split("\n");

function cellHeight(document: Sheet, { words, ticked }: PaperCell, width: number): number {
  if (!ticked) return heightOf(document, words, { width });
  const height = (line: string) => heightOf(document, line, { width: width - TICK_INDENT }) + TICK_GAP;
  return linesOf(words).reduce((sum, line) => sum + height(line), 0);
}

/** Each line behind an empty square. */
function writeTicked(document: Sheet, words: string, { x, y, width }: Place & { readonly y: number }): void {
  document.y = y;
  for (const line of linesOf(words)) {
    document
      .rect(x, document.y + 1, TICK, TICK)
      .lineWidth(0.8)
      .strokeColor(INK)
      .stroke();
    write(document, line, { x: x + TICK_INDENT, width: width - TICK_INDENT });
    document.y += TICK_GAP;
  }
}

function drawColumnNames(
  document: Sheet,
  { columns }: Paper,
  places: readonly { x: number; width: number }[],
): void {
  const top = document.y;
  const ends = columns.map(({ name, number }, column) => {
    const place = places[column] ?? { x: MARGIN, width: 0 };
    const look = { font: "bold", size: SMALL, colour: FADED } as const;
    return write(document, name, { ...place, ...look, y: top, align: number ? "right" : "left" });
  });
  document.y = Math.max(top, ...ends) + 3;
  drawRule(document, 0.8);
  document.y -= 4;
}

function drawSums(document: Sheet, { sums }: Paper): void {
  if (sums.length === 0) return;
  const width = innerWidth(document) / 2;
  const x = MARGIN + width;
  document.y += 8;
  keepTogether(document, sums.length * TEXT * 1.6);
  for (const { name, words, strong } of sums) {
    const y = document.y;
    const look = strong ? ({ font: "bold", size: TEXT + 1.5 } as const) : {};
    const value = widthOf(document, words, strong ? "bold" : "regular", TEXT + 1.5) + GAP;
    const below = write(document, name, { x, y, width: width - value, ...look });
    document.y = Math.max(below, write(document, words, { x, y, width, align: "right", ...look }));
    document.y += 3;
  }
}

function drawNotes(document: Sheet, { notes, signatures }: Paper): void {
  const width = innerWidth(document);
  document.y += 14;
  for (const words of notes) {
    keepTogether(document, heightOf(document, words, { width }));
    write(document, words, { x: MARGIN, width });
    document.y += 6;
  }
  if (signatures.length === 0) return;
  keepTogether(document, 60);
  document.y += 40;
  const y = document.y;
  const each = (width - GAP * 2) / signatures.length;
  for (const [place, words] of signatures.entries()) {
    const x = MARGIN + place * (each + GAP * 2);
    document
      .moveTo(x, y)
      .lineTo(x + each - GAP, y)
      .lineWidth(0.6)
      .strokeColor(INK)
      .stroke();
    write(document, words, { x, y: y + 3, width: each - GAP, size: SMALL });
  }
}

/** Begins a new sheet where what comes next would not fit on this one. */
function keepTogether(document: Sheet, height: number): void {
  if (document.y + height > document.page.height - document.page.margins.bottom) document.addPage();
}

const FOOT_LINE = SMALL * 1.25;

/** Room for the shop's words at the foot of each sheet: lines as they were typed, and some that turn over. */
function footHeight({ shop }: Paper): number {
  const lines = shop.foot.flatMap((words) => words.split("\n"));
  return lines.reduce((sum, line) => sum + FOOT_LINE * Math.ceil((line.length + 1) / 100), FOOT_LINE);
}

/** The shop's words, and which sheet of how many, below the margin of every sheet. */
function drawFeet(document: Sheet, paper: Paper): void {
  const { count } = document.bufferedPageRange();
  const width = innerWidth(document);
  for (let page = 0; page < count; page += 1) {
    document.switchToPage(page);
    // What is written below the margin would otherwise begin another sheet.
    document.page.margins.bottom = 0;
    document.y = document.page.height - MARGIN - footHeight(paper) + 12;
    const look = { x: MARGIN, width, size: SMALL, colour: FADED };
    for (const words of paper.shop.foot) write(document, words, look);
    if (count > 1)
      write(document, `${paperTitle(paper)}, sheet ${page + 1} of ${count}`, { ...look, align: "right" });
  }
}
