import type { TestApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";

/** An ingredient's form as it is sent: a filler of which nothing more is known unless it says otherwise. */
export function ingredientFields(given: Readonly<Record<string, string | readonly string[]>>) {
  return {
    ...{ kind: "filler", labelName: "", density: "", densitySource: "", evaporates: "" },
    ...{ statement: "", limitCategory: ["9"], limitShare: [""], limitSource: "" },
    ...{ allergens: "", allergenSource: "" },
    ...given,
  };
}

/** Soda, acid, alcohol, almond oil with its density, and two scent oils, of which one has a limit of 3 %. */
export async function stockedKitchen(application: TestApplication, owner: Visitor) {
  const add = async (given: Parameters<typeof ingredientFields>[0]) => {
    const answer = await owner.post("/setup/ingredients", ingredientFields(given));
    if (answer.statusCode !== 303) throw new Error(`Not added: ${answer.body}`);
    const [row] = await application.database.sql`select max(id)::integer as id from supplies`;
    return String(row?.id);
  };
  return {
    soda: await add({ name: "Soda of the shore", kind: "soda" }),
    acid: await add({ name: "Acid", kind: "acid", dusty: "yes" }),
    alcohol: await add({ name: "Alcohol", kind: "alcohol", evaporates: "100", flammable: "yes" }),
    almond: await add({
      name: "Almond oil",
      kind: "oil",
      density: "0,914",
      densitySource: "USP 0.910 to 0.915",
    }),
    cedar: await add({
      name: "Cedar shed oil",
      kind: "scent",
      limitShare: ["3"],
      limitSource: "invented certificate 7",
    }),
    fog: await add({ name: "Fog oil", kind: "scent" }),
  };
}

type Row = readonly [supply: string, amount: string, unit?: string, phase?: string];

/** A recipe's form as it is sent. */
export function recipeFields(rows: readonly Row[], given: Readonly<Record<string, string>> = {}) {
  return {
    ...{ validFrom: "2027-03-01", category: "9", note: "", writtenFor: "1", writtenForUnit: "kg" },
    partSupply: rows.map(([supply]) => supply),
    partAmount: rows.map(([, amount]) => amount),
    partUnit: rows.map(([, , unit]) => unit ?? "g"),
    partPhase: rows.map(([, , , phase]) => phase ?? ""),
    ...given,
  };
}
