import type { FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, typedList } from "../../views/components/formAnswer.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";

const LINE_LISTS = ["product", "units", "unit_price", "line_discount"] as const;

/**
 * The form as it was typed, after one of its buttons that only bring it back: a line more, the offered number of pieces
 * in a line ("pieces.3.72"), when it can be promised, or as it was. They work without JavaScript. Null where the form was really sent.
 */
export function broughtBack(request: FastifyRequest): FormAnswer | null {
  const pressed = fieldOf(request.body, "save");
  const answer = freshForm(asTyped(request.body));
  if (pressed === "as-it-was" || pressed === "promise") return answer;
  if (pressed === "one-more-line") {
    const longer = LINE_LISTS.map((name) => [name, [...typedList(answer, name), ""]]);
    return freshForm({ ...answer.typed, ...Object.fromEntries(longer) });
  }
  const [, place, units] = /^pieces\.(\d{1,4})\.([1-9]\d{0,5})$/.exec(String(pressed)) ?? [];
  if (place === undefined || units === undefined) return null;
  const typed = typedList(answer, "units").with(
    Math.min(Number(place), typedList(answer, "units").length - 1),
    units,
  );
  return freshForm({ ...answer.typed, units: typed });
}
