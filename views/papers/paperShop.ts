import type { PaperShop } from "./paper.ts";

/** The shop's heading as it was written, or as an invoice kept it. */
export function paperShop(written: {
  readonly name: string;
  readonly address: string;
  readonly taxNumber: string;
  readonly bank: string;
  readonly footer: string;
}): PaperShop {
  const { name, address, taxNumber, bank, footer } = written;
  return { name, address, taxNumber, foot: [bank, footer].filter((words) => words !== "") };
}
