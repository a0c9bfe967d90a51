import { z } from "zod";
import { repeatedField } from "../http/formFields.ts";

/** Lines of one order at most. */
const MOST_LINES = 200;

/** A pack and how many of it, such as "12x3". */
const line = /^([1-9]\d{0,8})x([1-9]\d{0,6})$/;

/** The ticked lines of one supplier's list. */
export const placeOrderForm = z
  .object({
    lines: repeatedField()
      .refine((sent) => sent.length > 0, { error: "Tick what you have ordered." })
      .refine((sent) => sent.length <= MOST_LINES && sent.every((one) => line.test(one)), {
        error: "Tick boxes of the list only.",
      }),
  })
  .transform(({ lines }) => ({
    lines: lines.map((one) => {
      const [, packId, packs] = line.exec(one) ?? [];
      return { packId: Number(packId), packs: Number(packs) };
    }),
  }));
