import type { LabelCheck, SeeTo } from "../../server/labels/checks.ts";
import type { Durability } from "../../server/labels/durability.ts";
import type { LabelContent } from "../../server/labels/labelContent.ts";
import type { Market } from "../../server/labels/markets.ts";
import { dayWords } from "../format/dates.ts";
import { counted, weightWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { netWeightWords } from "./labelWords.ts";
import { letterHeightWords } from "./lengthWords.ts";

/** What was found, and where the rule stands that it was held against. */
export interface CheckWords {
  readonly sentence: string;
  readonly source: string;
}

/** Added where the numbers of a rule were written down from memory. */
const memory = "from memory";

export function checkWords(check: LabelCheck, content: LabelContent): CheckWords {
  const { market } = content;
  switch (check.about) {
    case "recipe":
      return {
        sentence: "There is no recipe, so neither net weight nor ingredients are known.",
        source: "Both stand on every label.",
      };
    case "weight":
      return weightCheck(check, content);
    case "order":
      return {
        sentence:
          "Ingredients are put in order here, by what the recipe weighs in: heaviest first, colours last. Where the recipe is wrong, so is the order.",
        source: orderSource(market),
      };
    case "several":
      return {
        sentence: `${listed(check.names)}: more than one ingredient by the name, in one place. Whether each stands by its own weight nobody can tell; weigh them in one by one, or ask the supplier for the shares.`,
        source: orderSource(market),
      };
    case "durability":
      return durabilityCheck(check.found, market);
    case "names":
      return {
        sentence:
          check.verdict === "kept"
            ? "Every ingredient has its label's name."
            : `Nobody has said how labels call ${listed(content.unnamed)}.`,
        source: market === "us" ? "21 CFR 701.3(a), (c)" : "Regulation (EC) 1223/2009, Article 19(1)(g)",
      };
    case "allergens":
      return { sentence: allergenSentence(check), source: allergenSource(market) };
    case "no-statement":
      return {
        sentence: `No statement of listed allergens is entered for ${listed(check.scents)}: what is in it is not named. Ask the supplier for it.`,
        source: allergenSource(market),
      };
    case "bath-caution":
      return { sentence: bathCaution[check.because], source: "21 CFR 740.17" };
    case "lot":
      return {
        sentence: check.verdict === "kept" ? "The lot stands there." : "There is no lot on it.",
        source:
          market === "eu" || market === "uk"
            ? "Regulation (EC) 1223/2009, Article 19(1)(e)"
            : "Good practice",
      };
    case "maker":
      return {
        sentence:
          check.verdict === "kept"
            ? "Maker and place stand there."
            : "Maker or place is missing: see the setup.",
        source: makerSource[market],
      };
    case "contact":
      return {
        sentence:
          check.verdict === "kept"
            ? "A contact for complaints stands there: a domestic address, phone or website."
            : "A contact for complaints is missing: a domestic address, phone or website.",
        source: `21 USC 364e, ${memory}`,
      };
    case "height":
      return heightCheck(check, market);
    case "foot":
      return {
        sentence:
          check.verdict === "kept"
            ? "The net weight stands in the lowest 30 per cent."
            : "The net weight stands above the lowest 30 per cent of the label.",
        source: `21 CFR 701.13(f), ${memory}`,
      };
    case "see-to":
      return seeToWords(check.what);
  }
}

function weightCheck(
  { declared }: LabelCheck & { readonly about: "weight" },
  { netWeight, dryMilligrams, market }: LabelContent,
): CheckWords {
  const says = netWeight ? netWeightWords(netWeight, market === "us") : "";
  const dry = weightWords(dryMilligrams ?? 0);
  const source =
    market === "us"
      ? "15 USC 1453(a)(2); NIST Handbook 130 on rounding"
      : "Grams as the law asks; ounces beside them, by NIST Handbook 130 on rounding";
  const more = {
    most: "",
    "as-wished": " It is the lower weight you chose.",
    "above-dry": " What you chose is more than that, so it was not taken.",
  }[declared];
  return { sentence: `${says}: neither number is above the ${dry} of a dry piece.${more}`, source };
}

function allergenSentence({ named, verdict }: LabelCheck & { readonly about: "allergens" }): string {
  const above = "above 0.01 per cent of the dry piece";
  if (named.length === 0) return `No allergen that suppliers' statements list is ${above}.`;
  return verdict === "kept"
    ? `Listed allergens ${above} stand among the ingredients: ${listed(named)}.`
    : `Listed allergens ${above} are missing: ${listed(named)}.`;
}

function allergenSource(market: Market): string {
  if (market === "eu") return "Regulation (EC) 1223/2009, Annex III, as amended by Regulation (EU) 2023/1545";
  return `Regulation (EC) 1223/2009 as the United Kingdom kept it, Annex III, with a list of its own, ${memory}`;
}

function orderSource(market: Market): string {
  return market === "us"
    ? "21 CFR 701.3(a), (f); (f) by a secondary text"
    : "Regulation (EC) 1223/2009, Article 19(1)(g), by a secondary text";
}

function durabilityCheck(found: Durability, market: Market): CheckWords {
  const law =
    market === "uk" ? "Regulation (EC) 1223/2009 as the United Kingdom kept it" : "Regulation (EC) 1223/2009";
  return { sentence: durabilitySentence(found), source: `${law}, Article 19(1)(c), ${memory}` };
}

function durabilitySentence(found: Durability): string {
  switch (found.kind) {
    case "unstated":
      return "Nobody has said how many months it keeps, so there is no date on it: the owner says so with what the product's label declares.";
    case "no-day":
      return `It keeps ${counted(found.months, "month")}, but nobody knows from which day, so there is no date on it: say above when it was made.`;
    case "dated":
      return `A date stands there: the last month that is over ${counted(found.months, "month")} after ${dayWords(found.madeOn, { year: true })}, as the owner stated.`;
    case "long":
      return `No date is asked for, since it keeps ${counted(found.months, "month")}, more than 30; nor an open jar, since a piece is used up in one bath. A pack that is opened and used for weeks needs the open jar with its months, which is not printed here.`;
  }
}

const bathCaution = {
  present: "The caution for foaming bath products stands there, word by word: the recipe has a surfactant.",
  "no-surfactant": "No caution for foaming bath products is asked for: the recipe has no surfactant.",
  "adults-only": "No caution for foaming bath products is asked for: the label says for adults only.",
} as const;

const makerSource: Readonly<Record<Market, string>> = {
  us: `15 USC 1453(a)(1); 21 CFR 701.12, ${memory}`,
  eu: "Regulation (EC) 1223/2009, Article 19(1)(a)",
  uk: `Regulation (EC) 1223/2009 as the United Kingdom kept it, Article 19(1)(a), ${memory}`,
  none: "Good practice",
};

function heightCheck(check: LabelCheck & { readonly about: "height" }, market: Market): CheckWords {
  const { role, micrometres, leastMicrometres, verdict } = check;
  const what = { weight: "The net weight", ingredients: "Ingredients", cautions: "Cautions" }[role];
  const part = role === "weight" && market !== "us" ? "figures" : "small letters";
  const asked = letterHeightWords(leastMicrometres);
  const less = verdict === "kept" ? "" : ", which is too low";
  return {
    sentence: `${what}: ${part} ${letterHeightWords(micrometres)} high, where ${asked} is asked for${less}.`,
    source: heightSource(role, market),
  };
}

function heightSource(role: "weight" | "ingredients" | "cautions", market: Market): string {
  if (market !== "us")
    return `Directive 76/211/EEC, annex I, or the United Kingdom's Packaged Goods Regulations 2006, ${memory}`;
  if (role === "weight") return `21 CFR 701.13(h), (i); 16 CFR 500.21(b); the steps ${memory}`;
  if (role === "ingredients") return `21 CFR 701.3(b), and (p) ${memory}`;
  return `21 CFR 740.2, ${memory}`;
}

function seeToWords(what: SeeTo): CheckWords {
  const law = "Regulation (EC) 1223/2009, Article 19(1)";
  const words: Readonly<Record<SeeTo, CheckWords>> = {
    weigh: {
      sentence:
        "Weigh some pieces: what a shape takes includes what is lost in handling. Declare less where they are lighter.",
      source: "NIST Handbook 130: a declaration never overstates",
    },
    function: {
      sentence: "Its function stands there as bath bomb; see that this is what it is.",
      source: `${law}(f)`,
    },
    responsible: {
      sentence: "The maker has to be the responsible person in the market, with an address there.",
      source: `${law}(a)`,
    },
    language: {
      sentence:
        "The words are English. What the country you sell in wants in its own language is for you to add.",
      source: `Regulation (EC) 1223/2009, Article 19(5), ${memory}`,
    },
    colours: {
      sentence: "See that every colour is permitted for this use, and certified where it has to be.",
      source: "21 USC 361(e), 379e",
    },
    scales: {
      sentence:
        "Print one sheet on plain paper, lay it over the labels, and measure it before you use up a sheet.",
      source: "Common practice, no source",
    },
  };
  return words[what];
}
