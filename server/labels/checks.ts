import type { LabelRole } from "../../views/labels/labelWords.ts";
import type { Durability } from "./durability.ts";
import type { LabelPart } from "./ingredientOrder.ts";
import type { LabelContent } from "./labelContent.ts";
import { type LabelSide, leastHeightOf, measuredShare, panelOf, wordsOn } from "./layLabel.ts";
import type { Faces, Line } from "./layout.ts";
import type { Market } from "./markets.ts";
import { overstated } from "./netWeight.ts";
import { INCH_MICROMETRES, type SheetSize } from "./sheet.ts";
import { panelArea } from "./typeHeight.ts";

/** What a check is about; each has its sentence and its source among the words of the pages. */
export type CheckAbout =
  | { readonly about: "recipe" | "maker" | "contact" | "lot" | "order" | "names" }
  | { readonly about: "several"; readonly names: readonly string[] }
  | { readonly about: "weight"; readonly declared: "most" | "as-wished" | "above-dry" }
  | { readonly about: "bath-caution"; readonly because: "present" | "no-surfactant" | "adults-only" }
  | { readonly about: "allergens"; readonly named: readonly string[] }
  | { readonly about: "no-statement"; readonly scents: readonly string[] }
  | { readonly about: "durability"; readonly found: Durability }
  | { readonly about: "foot" }
  | {
      readonly about: "height";
      readonly role: "weight" | "ingredients" | "cautions";
      readonly micrometres: number;
      readonly leastMicrometres: number;
    }
  | { readonly about: "see-to"; readonly what: SeeTo };

/** What the program cannot know, for the maker to see to herself. */
export type SeeTo = "weigh" | "function" | "responsible" | "language" | "colours" | "scales";

/** kept and broken were looked at; see is for the maker; made cannot be broken, since we made it by the rule. */
export type LabelCheck = CheckAbout & { readonly verdict: "kept" | "broken" | "see" | "made" };

interface LabelToCheck {
  readonly content: LabelContent;
  readonly side: LabelSide;
  readonly sheet: SheetSize;
  /** Empty where the words do not fit. */
  readonly lines: readonly Line<LabelRole>[];
  readonly faces: Faces;
  /** What the maker wanted to declare; null for as much as may be. */
  readonly declaredMilligrams: number | null;
}

/** Everything that was looked at: what is broken first, then what is to be seen to, then what is kept or made so. */
export function checkLabel(label: LabelToCheck): readonly LabelCheck[] {
  const checks = [
    ...checkWeight(label),
    ...checkIngredients(label),
    ...checkAllergens(label),
    ...checkBathCaution(label),
    ...checkWhoAndLot(label),
    ...checkHeights(label),
    ...checkFoot(label),
    ...seeTo(label.content).map((what) => ({ about: "see-to", what, verdict: "see" }) as const),
  ];
  const order = { broken: 0, see: 1, kept: 2, made: 3 };
  return checks.toSorted((a, b) => order[a.verdict] - order[b.verdict]);
}

const verdictOf = (isKept: boolean) => (isKept ? ("kept" as const) : ("broken" as const));

function isOn(label: LabelToCheck, role: LabelRole): boolean {
  return wordsOn(label.content, label.side).has(role);
}

function checkWeight({ content, side, declaredMilligrams }: LabelToCheck): readonly LabelCheck[] {
  if (side === "back") return [];
  const { netWeight, dryMilligrams } = content;
  if (!netWeight || dryMilligrams === null) return [{ about: "recipe", verdict: "broken" }];
  const declared =
    declaredMilligrams === null
      ? ("most" as const)
      : declaredMilligrams > dryMilligrams
        ? ("above-dry" as const)
        : ("as-wished" as const);
  const isTrue = netWeight.milligrams > 0 && overstated(netWeight, dryMilligrams).length === 0;
  return [{ about: "weight", declared, verdict: verdictOf(isTrue) }];
}

function checkIngredients({ content, side }: LabelToCheck): readonly LabelCheck[] {
  if (side === "front") return [];
  const { ingredients, unnamed } = content;
  if (!ingredients) return side === "back" ? [{ about: "recipe", verdict: "broken" }] : [];
  const several = ingredients.filter(namesSeveral).map(({ name }) => name);
  return [
    { about: "order", verdict: "made" },
    { about: "names", verdict: verdictOf(unnamed.length === 0) },
    ...(several.length > 0 ? [{ about: "several", names: several, verdict: "see" } as const] : []),
  ];
}

/**
 * Whether one ingredient of the recipe is a mixture by its label's name, as in "Glycerin, Aqua" or "Talc (and) Silica": each
 * would stand by its own weight, which nobody entered. Colours stand in any order; "1,2-Hexanediol" is one name.
 */
function namesSeveral({ kind, name }: LabelPart): boolean {
  return kind !== "colour" && /,\s|;|\(and\)|\s&\s/i.test(name);
}

/** What is above 0.01 per cent stands among the ingredients; a scent of which nobody entered a statement is told. */
function checkAllergens({ content, side }: LabelToCheck): readonly LabelCheck[] {
  const { ingredients, allergens } = content;
  if (side === "front" || !ingredients || !allergens) return [];
  const listed = new Set(ingredients.map(({ name }) => name.toLowerCase()));
  const named = allergens.toName.map(({ name }) => name);
  const verdict = verdictOf(named.every((name) => listed.has(name.toLowerCase())));
  const scents = allergens.unstated;
  const checks: LabelCheck[] = [];
  // That nothing is above it is said only where every scent has its statement.
  if (named.length > 0 || scents.length === 0) checks.push({ about: "allergens", named, verdict });
  if (scents.length > 0) checks.push({ about: "no-statement", scents, verdict: "see" });
  return checks;
}

function checkBathCaution(label: LabelToCheck): readonly LabelCheck[] {
  const { content, side } = label;
  if (content.market !== "us" || side === "front" || !content.ingredients) return [];
  const because = !content.hasSurfactant
    ? ("no-surfactant" as const)
    : content.maker.adultsOnly
      ? ("adults-only" as const)
      : ("present" as const);
  const isKept = because !== "present" || content.cautions.includes("bath-product");
  return [{ about: "bath-caution", because, verdict: verdictOf(isKept) }];
}

function checkWhoAndLot(label: LabelToCheck): readonly LabelCheck[] {
  const { side, content } = label;
  const checks: LabelCheck[] = [];
  if (side !== "back") checks.push({ about: "lot", verdict: verdictOf(isOn(label, "lot")) });
  if (side !== "back" && content.durability) checks.push(durabilityCheck(label, content.durability));
  if (side === "front") return checks;
  const { makerName, makerPlace } = content.maker;
  checks.push({ about: "maker", verdict: verdictOf(makerName !== "" && makerPlace !== "") });
  // Asked for in the United States only; elsewhere the address serves.
  if (content.market === "us") checks.push({ about: "contact", verdict: verdictOf(isOn(label, "contact")) });
  return checks;
}

/** A date is missing up to 30 months of durability, and where nobody has said how long a piece keeps. */
function durabilityCheck(label: LabelToCheck, found: Durability): LabelCheck {
  const isKept = found.kind === "long" || isOn(label, "durability");
  return { about: "durability", found, verdict: verdictOf(isKept) };
}

const rolesWithHeight = ["weight", "ingredients", "cautions"] as const;

/** The letters as they were set, against what is asked for. */
function checkHeights({ content, sheet, lines, faces }: LabelToCheck): readonly LabelCheck[] {
  return rolesWithHeight.flatMap((role): readonly LabelCheck[] => {
    const leastMicrometres = leastHeightOf(role, content, sheet);
    const [line] = lines.filter((one) => one.role === role);
    if (leastMicrometres === null || !line) return [];
    const micrometres = line.size * measuredShare(role, content, faces[line.weight]);
    const verdict = verdictOf(micrometres >= leastMicrometres);
    return [{ about: "height", role, micrometres, leastMicrometres, verdict }];
  });
}

/** The net weight stands in the lowest 30 per cent, which panels of up to 5 square inches need not heed. */
const FOOT_SHARE = 0.3;
const FOOT_SQUARE_INCHES = 5;

function checkFoot({ content, sheet, lines, faces }: LabelToCheck): readonly LabelCheck[] {
  const [line] = lines.filter(({ role }) => role === "weight");
  const squareInches = panelArea(panelOf(sheet)) / (INCH_MICROMETRES / 1000) ** 2;
  if (content.market !== "us" || !line || squareInches <= FOOT_SQUARE_INCHES) return [];
  const top = line.baseline - line.size * faces[line.weight].capitalHeight;
  const isLow = top >= sheet.labelHeightMicrometres * (1 - FOOT_SHARE);
  return [{ about: "foot", verdict: isLow ? "kept" : "see" }];
}

const toSeeTo: Readonly<Record<Market, readonly SeeTo[]>> = {
  us: ["weigh", "colours"],
  eu: ["weigh", "function", "responsible", "language"],
  uk: ["weigh", "function", "responsible"],
  none: ["weigh"],
};

function seeTo({ market }: LabelContent): readonly SeeTo[] {
  return [...toSeeTo[market], "scales"];
}
