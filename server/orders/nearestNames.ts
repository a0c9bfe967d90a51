/** Characters of a name that are compared; what comes after hardly helps and costs time. */
const COMPARED = 60;

/**
 * The known names most like a mistyped one, the nearest first, at most two: none that is nothing like it, and the second
 * only when it is hardly farther than the first. Likeness is the edit distance of Levenshtein (1966): insertions, deletions and replacements of one character.
 */
export function nearestNames(typed: string, known: readonly string[]): readonly string[] {
  const wanted = comparable(typed);
  const alike = known
    .map((name) => ({ name, distance: editDistance(wanted, comparable(name)) }))
    .filter(({ name, distance }) => distance <= Math.max(wanted.length, comparable(name).length) / 2)
    .sort((one, other) => one.distance - other.distance || (one.name < other.name ? -1 : 1));
  const nearest = alike[0]?.distance ?? 0;
  return alike
    .slice(0, 2)
    .filter(({ distance }) => distance <= nearest + 1)
    .map(({ name }) => name);
}

/** How many single characters have to change to make one text of the other. */
function editDistance(one: string, other: string): number {
  let above = Array.from({ length: other.length + 1 }, (_, column) => column);
  for (let row = 1; row <= one.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= other.length; column += 1) {
      const replaced = (above[column - 1] ?? 0) + (one[row - 1] === other[column - 1] ? 0 : 1);
      current.push(Math.min(replaced, (above[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1));
    }
    above = current;
  }
  return above[other.length] ?? 0;
}

function comparable(name: string): string {
  return name.toLowerCase().slice(0, COMPARED);
}
