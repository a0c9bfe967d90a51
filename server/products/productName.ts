/** What a product is called until it is given a name of its own. */
export function productName(blendName: string, shapeName: string): string {
  return `${blendName} – ${shapeName}`;
}
