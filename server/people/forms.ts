import { z } from "zod";
import { textField } from "../http/formFields.ts";

/** OWASP ASVS 5.0, 6.2: at least 8 characters, long ones welcome, no rules of composition, nothing cut off. */
const newPassword = z
  .string({ error: "Choose a password." })
  .refine((typed) => typed.length >= 8, {
    error: "Use at least 8 characters; a few words in a row are best.",
  })
  .refine((typed) => typed.length <= 200, { error: "Use at most 200 characters." });

const emailField = textField({ most: 200 }).pipe(
  z.email({ error: "Give an e-mail address, such as name@shop.example." }),
);

export const newPersonForm = z.object({
  name: textField({ most: 80 }),
  email: emailField,
  password: newPassword,
});

export const signInForm = z.object({
  email: textField({ most: 200 }),
  password: z
    .string({ error: "Fill this in." })
    .min(1, { error: "Fill this in." })
    .max(200, { error: "Too long." }),
  /** Nobody types it, so nothing is said of a wrong one. */
  next: z.string().catch(""),
});

/** Saying goodbye needs no more than the button; whose it is stands in the path. */
export const goodbyeForm = z.object({});

export type NewPerson = z.output<typeof newPersonForm>;
