import { z } from "zod";
import { blankOr, idField, rowsOf, textField, wholeNumberField } from "../http/formFields.ts";

const millimetres = blankOr(wholeNumberField({ least: 1, most: 3000 }));

/** A size of box; the shapes and how many of each fill it come side by side, blank where a shape does not go in. */
export const boxSizeForm = z
  .preprocess(
    (body) =>
      typeof body === "object" && body !== null
        ? { ...body, holds: rowsOf(body, { shapeId: "holdsShape", units: "holdsUnits" }) }
        : body,
    z.object({
      name: textField({ most: 60 }),
      tare_grams: wholeNumberField({ least: 1, most: 50_000 }),
      inner_length: millimetres,
      inner_width: millimetres,
      inner_height: millimetres,
      holds: z.array(
        z.object({ shapeId: idField(), units: blankOr(wholeNumberField({ least: 1, most: 10_000 })) }),
      ),
    }),
  )
  .superRefine(({ inner_length, inner_width, inner_height }, context) => {
    const given = [inner_length, inner_width, inner_height].filter((side) => side !== null).length;
    if (given === 1 || given === 2)
      context.addIssue({ code: "custom", path: ["inner_length"], message: "Give all three sides, or none." });
  })
  .transform(({ name, tare_grams, inner_length, inner_width, inner_height, holds }) => ({
    size: {
      name,
      tareMilligrams: tare_grams * 1000,
      innerLengthMm: inner_length,
      innerWidthMm: inner_width,
      innerHeightMm: inner_height,
    },
    holds: [
      ...new Map(holds.flatMap(({ shapeId, units }) => (units === null ? [] : [[shapeId, units] as const]))),
    ].map(([shapeId, units]) => ({ shapeId, units })),
  }));

export type BoxSizeFacts = z.output<typeof boxSizeForm>;
