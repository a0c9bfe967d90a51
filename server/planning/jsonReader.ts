import { type CaseMistake, caseLimits } from "./case.ts";
import { dayNumber } from "./timing/clock.ts";

/**
 * Walks parsed JSON and notes everything that is not as it should be, each with its JSON path. Every read gives back
 * some value, so that one pass finds all mistakes; the values count only when no mistake was noted.
 */
export class JsonReader {
  readonly #value: unknown;
  readonly #path: string;
  readonly #mistakes: CaseMistake[];
  /** False below something already reported, so that one mistake is not reported again for each of its parts. */
  readonly #reporting: boolean;

  constructor(value: unknown, path: string, mistakes: CaseMistake[], reporting = true) {
    this.#value = value;
    this.#path = path;
    this.#mistakes = mistakes;
    this.#reporting = reporting;
  }

  mistake(problem: string): void {
    if (this.#reporting) this.#mistakes.push({ path: this.#path, problem });
  }

  isObject(): boolean {
    if (isRecord(this.#value)) return true;
    this.mistake(`must be an object, but is ${described(this.#value)}`);
    return false;
  }

  isList(): boolean {
    return Array.isArray(this.#value);
  }

  isLeftOut(): boolean {
    return this.#value === undefined;
  }

  isNull(): boolean {
    return this.#value === null;
  }

  field(name: string): JsonReader {
    const path = /^[A-Za-z]\w*$/.test(name)
      ? `${this.#path}.${name}`
      : `${this.#path}[${JSON.stringify(name)}]`;
    const parent = this.#value;
    if (!isRecord(parent)) return new JsonReader(undefined, path, this.#mistakes, false);
    const value = Object.hasOwn(parent, name) ? parent[name] : undefined;
    return new JsonReader(value, path, this.#mistakes, this.#reporting);
  }

  item(index: number): JsonReader {
    const value = Array.isArray(this.#value) ? this.#value[index] : undefined;
    return new JsonReader(value, `${this.#path}[${index}]`, this.#mistakes, this.#reporting);
  }

  list<Item>(atMost: number, read: (item: JsonReader) => Item): readonly Item[] {
    if (!Array.isArray(this.#value)) {
      this.mistake(`must be a list, but is ${described(this.#value)}`);
      return [];
    }
    if (this.#value.length > atMost) {
      this.mistake(`has ${this.#value.length} entries; at most ${atMost} are planned at once`);
      return [];
    }
    return this.#value.map((_, index) => {
      const item = this.item(index);
      item.isObject();
      return read(item);
    });
  }

  optionalList<Item>(atMost: number, read: (item: JsonReader) => Item): readonly Item[] {
    return this.isLeftOut() ? [] : this.list(atMost, read);
  }

  /** A text with something in it. */
  text(): string {
    if (typeof this.#value === "string" && this.#value.length > 0) {
      if (this.#value.length <= caseLimits.idLength) return this.#value;
      this.mistake(`has ${this.#value.length} characters; at most ${caseLimits.idLength} are allowed`);
    } else this.mistake(`must be a text, but is ${described(this.#value)}`);
    return "";
  }

  idAmong(known: ReadonlySet<string>, kind: string): string {
    const id = this.text();
    if (id !== "" && !known.has(id)) this.mistake(`"${id}" is not a ${kind} of this case`);
    return id;
  }

  matching(accepts: (text: string) => boolean, wanted: string): string {
    if (typeof this.#value === "string" && accepts(this.#value)) return this.#value;
    this.mistake(`must be ${wanted}, but is ${described(this.#value)}`);
    return "";
  }

  date(): string {
    return this.matching((text) => dayNumber(text) !== null, "a date YYYY-MM-DD of the calendar");
  }

  oneOf<Choice extends string>(choices: readonly [Choice, ...Choice[]]): Choice {
    const found = choices.find((choice) => choice === this.#value);
    if (found !== undefined) return found;
    this.mistake(
      `must be ${choices.map((choice) => `"${choice}"`).join(" or ")}, but is ${described(this.#value)}`,
    );
    return choices[0];
  }

  optionalFlag(leftOut: boolean): boolean {
    if (this.isLeftOut()) return leftOut;
    if (typeof this.#value === "boolean") return this.#value;
    this.mistake(`must be true or false, but is ${described(this.#value)}`);
    return leftOut;
  }

  /** A whole number of at least `least`. */
  count(least: 0 | 1): number {
    const wanted = least === 0 ? "a whole number, 0 or more" : "a whole number above 0";
    return this.number((value) => Number.isInteger(value) && value >= least, wanted, least);
  }

  /** A finite number, 0 or more. */
  amount(): number {
    return this.number((value) => value >= 0, "a number, 0 or more", 0);
  }

  optionalAmount(leftOut: number): number {
    return this.isLeftOut() ? leftOut : this.amount();
  }

  /** Any number, 0 or more, however large: a figure that is only compared. */
  figure(): number {
    if (typeof this.#value === "number" && Number.isFinite(this.#value) && this.#value >= 0)
      return this.#value;
    this.mistake(`must be a number, 0 or more, but is ${described(this.#value)}`);
    return 0;
  }

  positive(): number {
    return this.number((value) => value > 0, "a number above 0", caseLimits.amount);
  }

  private number(accepts: (value: number) => boolean, wanted: string, otherwise: number): number {
    const value = this.#value;
    if (typeof value !== "number" || !Number.isFinite(value) || !accepts(value)) {
      this.mistake(`must be ${wanted}, but is ${described(value)}`);
      return otherwise;
    }
    if (value > caseLimits.amount) {
      this.mistake(`is ${value}; at most ${caseLimits.amount} is planned with`);
      return otherwise;
    }
    return value;
  }
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function described(value: unknown): string {
  if (value === undefined) return "missing";
  if (value === null) return "null";
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object") return "an object";
  const text = typeof value === "string" ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
