import { Mistake } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { type FormAnswer, hasMistakeIn, typedList } from "../components/formAnswer.ts";

const PARTS = [
  { field: "contactName", part: "name", label: "Name", type: "text", most: 120 },
  { field: "contactRole", part: "role", label: "Sees to", type: "text", most: 80 },
  { field: "phone", part: "phone", label: "Telephone", type: "tel", most: 60 },
  { field: "email", part: "email", label: "E-mail address", type: "email", most: 200 },
] as const;

/** Whom to ask for: those there are and room for one more. */
export function ContactsField({ answer, open }: { readonly answer: FormAnswer; readonly open: boolean }) {
  const filled = Math.max(...PARTS.map(({ field }) => typedList(answer, field).length));
  return (
    <Fold name="Contacts" holds={contactsWords(answer)} open={open || hasMistakeIn(answer, ["contacts"])}>
      <p class="hint">In the order in which you would call them. Rows left empty do not count.</p>
      <Mistake name="contacts" answer={answer} />
      {Array.from({ length: filled + 1 }, (_, place) => (
        <ContactRow key={place} place={place} answer={answer} />
      ))}
    </Fold>
  );
}

function ContactRow({ place, answer }: { readonly place: number; readonly answer: FormAnswer }) {
  return (
    <fieldset class="fields contact" aria-label={`Contact ${place + 1}`}>
      {PARTS.map(({ field, part, label, type, most }) => {
        const name = `contacts.${place}.${part}`;
        const wrong = answer.mistakes[name] !== undefined;
        return (
          <div class="field" key={field}>
            <label for={name}>{label}</label>
            <input
              id={name}
              name={field}
              type={type as "text"}
              maxLength={most}
              value={typedList(answer, field)[place] ?? ""}
              autocomplete="off"
              aria-invalid={wrong ? "true" : undefined}
              aria-describedby={wrong ? `${name}-mistake` : undefined}
            />
            <Mistake name={name} answer={answer} />
          </div>
        );
      })}
    </fieldset>
  );
}

function contactsWords(answer: FormAnswer): string {
  const names = typedList(answer, "contactName").flatMap((name, place) => {
    const known = [name, typedList(answer, "phone")[place], typedList(answer, "email")[place]].find(Boolean);
    return known ? [known] : [];
  });
  return names.length === 0 ? "nobody yet" : names.join(", ");
}
