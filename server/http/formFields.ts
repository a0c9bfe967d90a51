import { DateTime } from "luxon";
import { z } from "zod";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { plainNumber, wholeWords } from "../../views/format/quantities.ts";

/*
 * The fields forms are made of. Each takes the text as it was typed and answers a mistake in one plain
 * sentence. A blank is never taken for a zero, nor the word "false" for yes.
 */

/** Text on one line or several, trimmed; blank only where `blank` allows it. */
export function textField(limits: { readonly most: number; readonly blank?: boolean }): z.ZodType<string> {
  const text = z
    .string({ error: "Fill this in." })
    .trim()
    .refine((value) => !value.includes("\u0000"), { error: "Leave out the invisible null character." })
    .refine((value) => value.length <= limits.most, {
      error: `Use at most ${wholeWords(limits.most)} characters.`,
    });
  if (limits.blank) return z.preprocess((value) => value ?? "", text) as z.ZodType<string>;
  return text.refine((value) => value.length > 0, { error: "Fill this in." });
}

/** A whole number between two bounds, both included. Blanks between digits are allowed, as groups of three have them. */
export function wholeNumberField(limits: {
  readonly least: number;
  readonly most: number;
}): z.ZodType<number> {
  const rightForm = {
    error: `Give a whole number from ${wholeWords(limits.least)} to ${wholeWords(limits.most)}.`,
  };
  return z
    .string({ error: "Fill this in." })
    .transform(withoutBlanks)
    .refine((digits) => digits !== "", { error: "Fill this in." })
    .refine((digits) => digits === "" || /^-?\d{1,9}$/.test(digits), rightForm)
    .transform(Number)
    .refine((count) => !Number.isFinite(count) || (count >= limits.least && count <= limits.most), rightForm);
}

/**
 * A decimal number with a point or a comma, at most `decimals` places, between two bounds, both included. Blanks
 * between digits are allowed.
 */
export function decimalField(limits: {
  readonly least: number;
  readonly most: number;
  readonly decimals: number;
}): z.ZodType<number> {
  const form = new RegExp(`^-?\\d{1,9}(\\.\\d{1,${limits.decimals}})?$`);
  const rightForm = {
    error: `Give a number from ${plainNumber(limits.least)} to ${plainNumber(limits.most)} with at most ${limits.decimals} decimals.`,
  };
  return z
    .string({ error: "Fill this in." })
    .transform((typed) => withoutBlanks(typed).replace(",", "."))
    .refine((digits) => digits !== "", { error: "Fill this in." })
    .refine((digits) => digits === "" || form.test(digits), rightForm)
    .transform(Number)
    .refine(
      (amount) => !Number.isFinite(amount) || (amount >= limits.least && amount <= limits.most),
      rightForm,
    );
}

/** A field that may be left blank, or not be sent at all, which is null; otherwise the mistakes of the field itself. */
export function blankOr<Value>(field: z.ZodType<Value>): z.ZodType<Value | null> {
  const read = z.unknown().transform((sent, context) => {
    if (typeof sent === "string" && sent.trim() === "") return null;
    const parsed = field.safeParse(sent);
    if (parsed.success) return parsed.data;
    for (const { message } of parsed.error.issues) context.addIssue({ code: "custom", message });
    return z.NEVER;
  });
  return z.preprocess((sent) => sent ?? "", read) as z.ZodType<Value | null>;
}

/** A calendar date as ISO 8601, as date inputs send it, between the years 2000 and 2199. */
export function dateField(): z.ZodType<string> {
  return z
    .string({ error: "Choose a date." })
    .trim()
    .min(1, { error: "Choose a date.", abort: true })
    .refine((typed) => /^2[01]\d\d-\d\d-\d\d$/.test(typed) && DateTime.fromISO(typed).isValid, {
      error: "Give a date of the calendar, such as 2027-03-05.",
    });
}

/** A clock time such as "09:30", as minutes from midnight. */
export function clockField(): z.ZodType<number> {
  return z
    .string({ error: "Give a time." })
    .trim()
    .refine((typed) => /^([01]\d|2[0-3]):[0-5]\d$/.test(typed), { error: "Give a time, such as 09:30." })
    .transform((typed) => Number(typed.slice(0, 2)) * 60 + Number(typed.slice(3, 5)));
}

/** A tick box: sent as "yes" when ticked, not sent at all when not. */
export function tickField(): z.ZodType<boolean> {
  // An object schema calls a key that is not sent missing, before the field is asked: nothing becomes a value first.
  return z.preprocess(
    (sent) => sent ?? "no",
    z.enum(["yes", "no"], { error: "Tick it or leave it." }).transform((sent) => sent === "yes"),
  ) as z.ZodType<boolean>;
}

/** One of a few choices; `message` says what to do when none was chosen. */
export function choiceField<const Choice extends string>(
  choices: readonly [Choice, ...Choice[]],
  message: string,
): z.ZodType<Choice> {
  return z.enum(choices, { error: message }) as unknown as z.ZodType<Choice>;
}

/** The number of a row chosen from a list, or from a link. */
export function idField(message = "Choose one from the list."): z.ZodType<number> {
  return z
    .string({ error: message })
    .refine((typed) => /^[1-9]\d{0,8}$/.test(typed), { error: message })
    .transform(Number);
}

/** A field that may be sent once or many times, as a list of texts. */
export function repeatedField(): z.ZodType<readonly string[]> {
  return z.preprocess(
    (sent) => (sent === undefined ? [] : Array.isArray(sent) ? sent : [sent]),
    z.array(z.string({ error: "Send text only." })),
  ) as z.ZodType<readonly string[]>;
}

/** A field that is sent once for each of several things, at least one; `whenNone` says what to do where none is sent. */
export function oneOrMoreField<Value>(
  field: z.ZodType<Value>,
  whenNone: string,
): z.ZodType<readonly Value[]> {
  return z.preprocess(
    (sent) => (sent === undefined ? [] : Array.isArray(sent) ? sent : [sent]),
    z.array(field).min(1, { error: whenNone }),
  ) as z.ZodType<readonly Value[]>;
}

/** Rows that are read of lists sent side by side; more are no form of ours. */
const MOST_ROWS = 2000;

/**
 * Fields that are sent many times and stand side by side, as rows of text; what one list lacks is blank.
 *
 * @param fields the part of a row to the name of its field
 */
export function rowsOf<Part extends string>(
  body: unknown,
  fields: Readonly<Record<Part, string>>,
): readonly Readonly<Record<Part, string>>[] {
  const parts = Object.keys(fields) as Part[];
  const lists = parts.map((part) => {
    const sent = typeof body === "object" && body !== null ? Reflect.get(body, fields[part]) : undefined;
    const list = repeatedField().safeParse(sent);
    return list.success ? list.data : [];
  });
  const rows = Math.min(MOST_ROWS, Math.max(...lists.map((list) => list.length)));
  return Array.from({ length: rows }, (_, place) => {
    const row = parts.map((part, column) => [part, lists[column]?.[place] ?? ""]);
    return Object.fromEntries(row) as Record<Part, string>;
  });
}

/** The groups of three of a long number may be typed as they are shown. */
function withoutBlanks(typed: string): string {
  return typed.replaceAll(/\s/g, "");
}

/** A field of a form's body, whether the form came url-encoded or as multipart. */
export function fieldOf(body: unknown, name: string): unknown {
  if (typeof body !== "object" || body === null || !(name in body)) return undefined;
  const field: unknown = body[name as keyof typeof body];
  return typeof field === "object" && field !== null && "value" in field ? field.value : field;
}

/** Of a field that was sent several times, as many are shown again as the longest form rightly has, and one more. */
const MOST_SHOWN_AGAIN = 501;

/** The fields of a sent form as text, for showing them again; fields sent several times as lists. */
export function asTyped(body: unknown): FormAnswer["typed"] {
  const typed: Record<string, string | readonly string[]> = {};
  if (typeof body !== "object" || body === null) return typed;
  for (const [name, value] of Object.entries(body)) {
    if (typeof value === "string") typed[name] = value;
    else if (Array.isArray(value))
      typed[name] = value
        .filter((item): item is string => typeof item === "string")
        .slice(0, MOST_SHOWN_AGAIN);
  }
  return typed;
}
