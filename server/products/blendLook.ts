import { blends } from "../../db/schema/products.ts";

/** The columns by which a blend is drawn. */
export const blendLook = { name: blends.name, colour: blends.colour, pattern: blends.pattern };
