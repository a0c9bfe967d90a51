import { dayWords } from "../../views/format/dates.ts";
import { counted, wholeWords } from "../../views/format/quantities.ts";
import { stateWords } from "../../views/orders/stateWords.ts";
import { needsDateHabit } from "./fileDates.ts";
import type { FileMistake } from "./fileMistake.ts";
import { MOST_CUSTOMER_REFERENCE, MOST_NOTE } from "./forms.ts";
import type { KnownForFile } from "./knownForFile.ts";
import { nearestNames } from "./nearestNames.ts";
import { MOST_LINES, MOST_UNITS, orderTerms } from "./order.ts";
import { MOST_FILE_LINES } from "./orderFileLimits.ts";
import { orderColumns } from "./orderTable.ts";
import type { AnswerRefusal } from "./rememberFileNames.ts";

/** What is wrong with a line of a file, and what would be right, in one sentence. */
export function fileMistakeWords(mistake: FileMistake, known: KnownForFile): string {
  return formWords(mistake) ?? cellWords(mistake, known) ?? orderWords(mistake) ?? "This cannot be read.";
}

/** Of the file's form. */
function formWords(mistake: FileMistake): string | null {
  switch (mistake.why) {
    case "empty":
      return "The file is empty.";
    case "not-utf-8":
      return mistake.looksLike
        ? `This is not UTF-8 but looks like ${mistake.looksLike}. Save the file as CSV in UTF-8.`
        : "Some characters here are not UTF-8. Save the file as CSV in UTF-8.";
    case "quote-open":
      return `A quotation mark opens here and is not closed within ${wholeWords(10_000)} characters; nothing after it could be read.`;
    case "too-many-lines":
      return `A file takes at most ${wholeWords(MOST_FILE_LINES)} lines of orders; this is the first that is too many. Send it in parts.`;
    case "column-missing":
      return `The column ${mistake.column} is missing. The columns are ${orderColumns.join(", ")}.`;
    case "column-unknown":
      return mistake.name === ""
        ? "One column has no name."
        : `There is no column ${quoted(mistake.name)}. The columns are ${orderColumns.join(", ")}.`;
    case "column-twice":
      return `The column ${mistake.column} stands there more than once.`;
    case "field-count":
      return `${counted(mistake.found, "field")} where the header has ${wholeWords(mistake.expected)}. What separates the fields needs quotation marks where it stands within one.`;
    case "no-orders":
      return "There is nothing below the header.";
    default:
      return null;
  }
}

/** Of one cell. */
function cellWords(mistake: FileMistake, known: KnownForFile): string | null {
  switch (mistake.why) {
    case "blank":
      return `The column ${mistake.column} is blank.`;
    case "reference":
      return `${quoted(mistake.typed)} cannot be an order's reference: at most 40 characters on one line, without quotation marks.`;
    case "customer-unknown":
      return `There is no customer ${quoted(mistake.typed)}.${suggestion(mistake.typed, namesOf(known.customers))}`;
    case "product-unknown":
      return `There is no product ${quoted(mistake.typed)}.${suggestion(mistake.typed, productNames(known, mistake.typed))}`;
    case "product-ambiguous":
      return `More than one product is called ${quoted(mistake.typed)}. Give its code.`;
    case "terms":
      return `${quoted(mistake.typed)} is no way of delivery. Give ${orderTerms.join(", ")}, or leave it blank for the customer's usual way.`;
    case "no-date":
      return "Say by when: fill in ship_by or needed_by.";
    case "date":
      return `${quoted(mistake.typed)} is no date of the calendar${dateAdvice(mistake)}`;
    case "price":
      return `${quoted(mistake.typed)} is no price here. ${mistake.sentence}`;
    case "their-number":
      return `${quoted(mistake.typed)} cannot be the customer's own number: at most ${MOST_CUSTOMER_REFERENCE} characters on one line.`;
    case "note":
      return `The note is too long: use at most ${wholeWords(MOST_NOTE)} characters.`;
    case "units":
      return `${quoted(mistake.typed)} is no number of pieces. Give a whole number from 1 to ${wholeWords(MOST_UNITS)}.`;
    default:
      return null;
  }
}

function dateAdvice({ typed, dates }: Extract<FileMistake, { readonly why: "date" }>): string {
  if (dates === "day-first") return " with the day first. Write it as in 5.3.2027 or 2027-03-05.";
  if (dates === "month-first") return " with the month first. Write it as in 3/5/2027 or 2027-03-05.";
  return needsDateHabit(typed)
    ? ". Choose below whether the day or the month comes first, or write dates as in 2027-03-05."
    : ". Write dates as in 2027-03-05.";
}

/** Of a whole order. */
function orderWords(mistake: FileMistake): string | null {
  switch (mistake.why) {
    case "customer-retired":
      return `${mistake.typed} no longer orders.`;
    case "product-retired":
      return `${mistake.typed} is no longer made.`;
    case "date-gone-by":
      return `${dayWords(mistake.typed)} has gone by; today is ${dayWords(mistake.today)}.`;
    case "no-working-day":
      return `Nothing can leave in the year before ${dayWords(mistake.typed, { year: true })}: the workshop has no working days there.`;
    case "needed-too-soon":
      return `To be there on ${dayWords(mistake.typed)} it had to leave by ${dayWords(mistake.shipBy)}; today is ${dayWords(mistake.today)}. Give a ship_by date to take it all the same.`;
    case "currency-changed":
      return `The workshop's currency is ${mistake.currency} now: look at the prices again.`;
    case "date-too-far":
      return `${dayWords(mistake.typed, { year: true })} is too far ahead; orders are taken up to ${dayWords(mistake.last, { year: true })}.`;
    case "contradiction":
      return `${mistake.column} says ${quoted(mistake.typed)}, but line ${mistake.firstLine} says otherwise for the same order ${mistake.order}.`;
    case "product-twice":
      return `${mistake.order} has this product in line ${mistake.firstLine} already; add the pieces there.`;
    case "too-many-order-lines":
      return `${mistake.order} has more than ${MOST_LINES} lines.`;
    case "reference-taken":
      return `${mistake.order} is there already, with other content, and is ${stateWords(mistake.state)}. Change it by hand, or give this one another reference.`;
    default:
      return null;
  }
}

function suggestion(typed: string, names: readonly string[]): string {
  const nearest = nearestNames(typed, names);
  return nearest.length === 0 ? "" : ` Nearest: ${nearest.map(quoted).join(", ")}.`;
}

/** Codes for what looks like a code, names for what looks like a name. */
function productNames({ products }: KnownForFile, typed: string): readonly string[] {
  const made = products.filter((product) => !product.retired);
  return typed.includes("/") ? made.map((product) => product.code) : namesOf(made);
}

function namesOf(things: readonly { readonly name: string; readonly retired: boolean }[]): readonly string[] {
  return things.filter((thing) => !thing.retired).map((thing) => thing.name);
}

/** As the file had it, cut where it is long. */
function quoted(typed: string): string {
  return `“${typed.length > 60 ? `${typed.slice(0, 59)}…` : typed}”`;
}

/** Why an answer about a name cannot be taken. */
export function answerMistakeWords({ why }: AnswerRefusal): string {
  switch (why) {
    case "unanswered":
      return "Choose what it means.";
    case "gone":
      return "That is no longer there: choose again.";
    case "name-taken":
      return "A customer has nearly this name: choose that one, or add this one under Setup.";
    case "name-unfit":
      return "The name is too long for a customer: add it under Setup with a shorter one, and choose that here.";
  }
}
