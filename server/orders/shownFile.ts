import type { CarriedFile } from "../../views/orders/CarriedFileFields.tsx";
import type { ImportFailure } from "../../views/orders/ImportPage.tsx";
import type { PreviewPageProps } from "../../views/orders/PreviewPage.tsx";
import { groupBy } from "../basics/groupBy.ts";
import type { CheckedFile, FileOrder } from "./checkOrderFile.ts";
import type { OrderFile } from "./examineOrderFile.ts";
import { fileMistakeWords } from "./fileSentences.ts";
import type { KnownForFile } from "./knownForFile.ts";

/** Bad lines told in detail; the rest is counted. */
const MOST_LINES_TOLD = 200;

/** Why a file was not taken, line by line. */
export function importFailure(
  fileName: string,
  { mistakes }: CheckedFile,
  known: KnownForFile,
): ImportFailure {
  const byLine = [...groupBy(mistakes, (mistake) => mistake.line)];
  return {
    is: "mistakes",
    fileName,
    badLines: byLine.length,
    mistakes: mistakes.length,
    told: byLine.slice(0, MOST_LINES_TOLD).map(([line, ofLine]) => ({
      line,
      sentences: ofLine.map((mistake) => fileMistakeWords(mistake, known)),
    })),
  };
}

/** What would be taken, order by order, and the file itself for the form that takes it. */
export function previewOf(file: OrderFile, checked: CheckedFile, currency: string): PreviewPageProps {
  return {
    carried: carriedFile(file),
    currency,
    linesRead: checked.linesRead,
    leftOut: checked.leftOut,
    fresh: checked.fresh.map(previewedOrder),
    takenBefore: checked.takenBefore.map((order) => ({
      reference: order.reference,
      orderId: order.orderId,
      state: order.state,
    })),
  };
}

/** The file in fields of a form, which brings it back. */
export function carriedFile({ name, bytes, dates }: OrderFile): CarriedFile {
  return { fileName: name, file: bytes.toString("base64url"), dates };
}

function previewedOrder(order: FileOrder): PreviewPageProps["fresh"][number] {
  return {
    reference: order.reference,
    customer: order.customer.name,
    terms: order.terms,
    shipBy: order.shipBy,
    neededBy: order.neededBy,
    theirNumber: order.theirNumber,
    note: order.note,
    lines: order.lines.map(({ product, units, unitPriceMinor }) => ({
      product: product.name,
      units,
      unitPriceMinor,
    })),
  };
}
