import { StateMark } from "../components/StateMark.tsx";
import { currencyWords } from "../format/money.ts";
import { counted, minutesWords, weightWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";

interface SetupFacts {
  readonly shapes: number;
  readonly moldSets: number;
  readonly blends: number;
  readonly products: number;
  readonly shops: number;
  readonly markets: number;
  readonly weekSessions: number;
  readonly weekHandMinutes: number;
  readonly comingExceptions: number;
  readonly trays: number;
  readonly mixers: number;
  readonly bowlMilligrams: number;
  readonly timeZone: string;
  readonly currency: string;
  readonly ingredients: number;
  readonly packaging: number;
  readonly suppliers: number;
  readonly carriers: number;
  readonly boxSizes: number;
  /** Blends in use that have a recipe. */
  readonly recipes: number;
  readonly priceLists: number;
  readonly taxGroups: number;
  readonly people: number;
}

interface SetupPageProps {
  readonly facts: SetupFacts;
  readonly missing: readonly string[];
}

interface Room {
  readonly name: string;
  readonly href: string;
  readonly facts: string;
  /** The missing things that are seen to there. */
  readonly seesTo: readonly string[];
}

/** How the workshop works, at a glance: can it plan, and what is where. */
export function SetupPage({ facts, missing }: SetupPageProps) {
  return (
    <>
      <h1>{readinessSentence(facts, missing)}</h1>
      <ul class="plain-list">
        {roomsOf(facts).map((room) => (
          <li key={room.href} class="row">
            <a href={room.href} class="room">
              {room.name}
            </a>
            <span class="room-facts">{room.facts}</span>
            {room.seesTo.some((what) => missing.includes(what)) && <StateMark words="missing" urgent />}
          </li>
        ))}
      </ul>
    </>
  );
}

function readinessSentence(facts: SetupFacts, missing: readonly string[]): string {
  if (missing.length > 0)
    return `The workshop cannot plan yet: ${listed(missing.map((what) => missingWords[what] ?? `no ${what}`))}.`;
  const products = counted(facts.products, "product");
  return `The workshop can plan: ${products}, and ${minutesWords(facts.weekHandMinutes)} of handwork in an ordinary week.`;
}

const missingWords: Readonly<Record<string, string>> = {
  "mixing sessions": "no session long enough to mix a bowl",
  "mold sets": "no mold set for any product",
};

function roomsOf(facts: SetupFacts): readonly Room[] {
  const exceptions = facts.comingExceptions;
  return [
    {
      name: "Workshop",
      href: "/setup/workshop",
      facts: `${counted(facts.mixers, "mixer")}, bowls up to ${weightWords(facts.bowlMilligrams)}, ${counted(facts.trays, "tray")}, time of ${facts.timeZone.replaceAll("_", " ")}`,
      seesTo: ["trays", "mixers"],
    },
    {
      name: "Shapes",
      href: "/setup/shapes",
      facts: `${counted(facts.shapes, "shape")}, ${counted(facts.moldSets, "mold set")}`,
      seesTo: ["shapes", "mold sets"],
    },
    {
      name: "Sessions",
      href: "/setup/sessions",
      facts: `${counted(facts.weekSessions, "session")} a week, ${exceptions === 0 ? "no exception" : counted(exceptions, "exception")} ahead`,
      seesTo: ["sessions", "mixing sessions"],
    },
    {
      name: "Calendar for phones",
      href: "/setup/calendar",
      facts: "sessions, turnings and ship-by dates, by an address of their own",
      seesTo: [],
    },
    { name: "Blends", href: "/setup/blends", facts: counted(facts.blends, "blend"), seesTo: ["blends"] },
    {
      name: "Ingredients",
      href: "/setup/ingredients",
      facts: facts.ingredients === 0 ? "none yet" : counted(facts.ingredients, "ingredient"),
      seesTo: [],
    },
    {
      name: "Packaging",
      href: "/setup/packaging",
      facts: facts.packaging === 0 ? "none yet" : `${facts.packaging} to pack with`,
      seesTo: [],
    },
    {
      name: "Suppliers",
      href: "/setup/suppliers",
      facts: facts.suppliers === 0 ? "none yet" : counted(facts.suppliers, "supplier"),
      seesTo: [],
    },
    {
      name: "Recipes",
      href: "/recipes",
      facts: `${facts.recipes} of ${counted(facts.blends, "blend")} ${facts.recipes === 1 ? "has" : "have"} one`,
      seesTo: [],
    },
    {
      name: "Products",
      href: "/setup/products",
      facts: counted(facts.products, "product"),
      seesTo: ["products"],
    },
    {
      name: "Labels",
      href: "/setup/labels",
      facts: "whose rules, who stands on them, and the sheets",
      seesTo: [],
    },
    {
      name: "What batches taught",
      href: "/setup/learned",
      facts: "losses and pressing, beside what the plan counts on",
      seesTo: [],
    },
    {
      name: "Money",
      href: "/setup/money",
      facts: `in ${currencyWords(facts.currency)}, ${facts.taxGroups === 0 ? "no tax" : counted(facts.taxGroups, "tax group")}`,
      seesTo: [],
    },
    {
      name: "Heading of papers",
      href: "/setup/heading",
      facts: "what stands on confirmations, slips, invoices and statements",
      seesTo: [],
    },
    {
      name: "Price lists",
      href: "/setup/prices",
      facts: facts.priceLists === 0 ? "none yet" : counted(facts.priceLists, "price list"),
      seesTo: [],
    },
    { name: "Cases", href: "/setup/cases", facts: "in what multiples shapes are sold", seesTo: [] },
    {
      name: "Customers",
      href: "/setup/customers",
      facts: `${counted(facts.shops, "shop")}, ${counted(facts.markets, "market")}`,
      seesTo: ["customers"],
    },
    {
      name: "Boxes",
      href: "/setup/boxes",
      facts: facts.boxSizes === 0 ? "none yet" : `${counted(facts.boxSizes, "size")} of box`,
      seesTo: [],
    },
    {
      name: "Carriers",
      href: "/setup/carriers",
      facts: facts.carriers === 0 ? "none yet" : `${counted(facts.carriers, "carrier")} for parcels`,
      seesTo: [],
    },
    {
      name: "Local round",
      href: "/setup/round",
      facts: "where its stops are, and how you drive",
      seesTo: [],
    },
    {
      name: "People",
      href: "/setup/people",
      facts: `${counted(facts.people, "person", "people")} can sign in`,
      seesTo: [],
    },
  ];
}
