import type { LabelSide } from "../../server/labels/layLabel.ts";

/** What stands on which label. */
export const sideWords: Readonly<Record<LabelSide, { readonly label: string; readonly meaning: string }>> = {
  all: { label: "everything", meaning: "All on one label." },
  front: { label: "front", meaning: "Name, lot and net weight." },
  back: { label: "back", meaning: "Ingredients, cautions, maker and contact." },
};
