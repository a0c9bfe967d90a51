import bwip from "bwip-js/node";
import type { CodeSquares } from "./drawLabels.ts";
import { type Elements, elementString } from "./gs1.ts";

/**
 * The QR code of a lot (ISO/IEC 18004): what GS1 calls its element string, begun as GS1 asks for, where the shop has a
 * number of its own for the product; the bare lot code otherwise. Error correction M, which a dusty code needs.
 */
export function lotSquares(lotCode: string, elements: Elements | null): CodeSquares {
  const [drawn] = elements
    ? bwip.raw("gs1qrcode", elementString(elements).bracketed, "eclevel=M")
    : bwip.raw("qrcode", lotCode, "eclevel=M");
  if (!drawn || !("pixs" in drawn)) throw new Error(`No code was made for lot ${lotCode}`);
  const { pixs, pixx } = drawn;
  return { side: pixx, isDark: (row, column) => pixs[row * pixx + column] === 1 };
}
