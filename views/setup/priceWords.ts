export const kindWords = {
  wholesale: "For shops.",
  retail: "For the stall and whoever buys there.",
} as const;

export function statedWords(includesTax: boolean): string {
  return includesTax ? "The tax is in the prices." : "The tax comes on top of the prices.";
}
