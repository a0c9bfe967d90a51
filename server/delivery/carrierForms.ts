import { z } from "zod";
import { textField } from "../http/formFields.ts";
import { NUMBER_PLACE, trackingPatternFault } from "./trackingLink.ts";

/** Services of one carrier at most, and the length of the name of one. */
const MOST_SERVICES = 30;
const LONGEST_SERVICE = 80;

const faults = {
  "not-https": "Give an address that begins with https://, or leave it blank.",
  "no-number": `Put ${NUMBER_PLACE} where the number of the parcel goes.`,
  "number-in-host": `Put ${NUMBER_PLACE} behind the name of the site, after a slash.`,
  unreadable: "Give an address as the browser shows it, without blanks.",
} as const;

/** A carrier: its services one a line, and the address under which its parcels are followed. */
export const carrierForm = z
  .object({
    name: textField({ most: 80 }),
    services: textField({ most: 3000, blank: true })
      .transform((typed) =>
        [...new Set(typed.split("\n").map((line) => line.trim()))].filter((line) => line !== ""),
      )
      .refine((lines) => lines.length <= MOST_SERVICES, {
        error: `Write down at most ${MOST_SERVICES} services.`,
      })
      .refine((lines) => lines.every((line) => line.length <= LONGEST_SERVICE), {
        error: `Use at most ${LONGEST_SERVICE} characters for a service.`,
      }),
    tracking: textField({ most: 500, blank: true }).superRefine((pattern, context) => {
      const fault = pattern === "" ? null : trackingPatternFault(pattern);
      if (fault !== null) context.addIssue({ code: "custom", message: faults[fault] });
    }),
  })
  .transform(({ tracking, ...rest }) => ({ ...rest, trackingPattern: tracking }));

export type CarrierFacts = z.output<typeof carrierForm>;
