/** What a form that could not be taken is shown with: everything as it was typed, each mistake beside its field. */
export interface FormAnswer {
  readonly typed: Readonly<Record<string, string | readonly string[]>>;
  /** Field name (dotted for repeated lines, "" for the whole form) to sentence. */
  readonly mistakes: Readonly<Record<string, string>>;
}

/** A form nobody has filled in yet, or one filled in from what is known. */
export function freshForm(typed: FormAnswer["typed"] = {}): FormAnswer {
  return { typed, mistakes: {} };
}

/** The same form with one more sentence: beside a field, or about the whole form where the field is "". */
export function withMistake(answer: FormAnswer, field: string, sentence: string): FormAnswer {
  return { ...answer, mistakes: { ...answer.mistakes, [field]: sentence } };
}

export function typedText(answer: FormAnswer, name: string): string {
  const typed = answer.typed[name];
  return typeof typed === "string" ? typed : (typed?.[0] ?? "");
}

export function typedList(answer: FormAnswer, name: string): readonly string[] {
  const typed = answer.typed[name];
  return typed === undefined ? [] : typeof typed === "string" ? [typed] : typed;
}

/** Whether something is wrong with one of these fields, or with a line of it. */
export function hasMistakeIn(answer: FormAnswer, fields: readonly string[]): boolean {
  return Object.keys(answer.mistakes).some((name) =>
    fields.some((field) => name === field || name.startsWith(`${field}.`)),
  );
}
