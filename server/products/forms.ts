import { z } from "zod";
import { blendPatterns } from "../../views/components/Swatch.tsx";
import { blankOr, choiceField, decimalField, repeatedField, textField } from "../http/formFields.ts";
import { codeField, withCode } from "../workshop/forms.ts";
import { shadeOf } from "./shade.ts";

/** Most cells of the grid that one form may tick. */
const MOST_NEW_PRODUCTS = 500;

const blendFields = z.object({
  name: textField({ most: 80 }),
  colour: textField({ most: 7 })
    .transform((typed) => typed.toLowerCase())
    .refine((typed) => /^#[0-9a-f]{6}$/.test(typed), {
      error: "Give a colour as # and six digits 0 to 9 or a to f, such as #c98a3d.",
    }),
  pattern: choiceField(blendPatterns, "Choose a pattern."),
  /** Blank for the shade of the colour. */
  shade: blankOr(decimalField({ least: 0, most: 1, decimals: 2 })),
});

function withShade<Fields extends { readonly colour: string; readonly shade: number | null }>(
  fields: Fields,
) {
  return { ...fields, shade: fields.shade ?? shadeOf(fields.colour) };
}

export const blendForm = blendFields.transform(withShade);

export const newBlendForm = blendFields.extend({ code: codeField }).transform(withCode).transform(withShade);

export type BlendLooks = z.output<typeof blendForm>;
export type NewBlend = z.output<typeof newBlendForm>;

const cell = /^([1-9]\d{0,8})x([1-9]\d{0,8})$/;

/** The ticked cells of the grid, each "blend id x shape id". */
export const newProductsForm = z
  .object({
    cells: repeatedField()
      .refine((sent) => sent.length > 0, { error: "Tick at least one product to make." })
      .refine((sent) => sent.length <= MOST_NEW_PRODUCTS, {
        error: `Tick at most ${MOST_NEW_PRODUCTS} products at once.`,
      })
      .refine((sent) => sent.every((one) => cell.test(one)), { error: "Tick boxes of the grid only." }),
  })
  .transform(({ cells }) =>
    [...new Set(cells)].map((one) => {
      const [, blendId, shapeId] = cell.exec(one) ?? [];
      return { blendId: Number(blendId), shapeId: Number(shapeId) };
    }),
  );

export const productForm = z.object({ name: textField({ most: 170 }) });

/** One cell of the grid: a blend pressed into a shape. Without a name it is called after both. */
export interface NewProduct {
  readonly blendId: number;
  readonly shapeId: number;
  readonly name?: string;
}
