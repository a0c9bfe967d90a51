/** A planner's thread that ends in the middle of its work, as one out of memory does. */
export function searchSeed(): never {
  process.exit(1);
}
