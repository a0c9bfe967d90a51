import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, typedList, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { RecipeFormPage } from "../../views/recipes/RecipeFormPage.tsx";
import { RecipePage } from "../../views/recipes/RecipePage.tsx";
import { RecipesPage } from "../../views/recipes/RecipesPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf, idField } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { addVersion } from "./addVersion.ts";
import { isOunces, massOf, toMilligrams } from "./amounts.ts";
import { partLists, scalingForm, versionForm } from "./forms.ts";
import {
  findBlendLook,
  listIngredientChoices,
  listRecipes,
  listVersions,
  readBowlMilligrams,
  readParts,
  shapesOfBlend,
} from "./queries.ts";
import { type ReckonedVersion, reckonVersion, type VersionRefusal } from "./reckonVersion.ts";
import { versionMistake } from "./sentences.ts";
import { recipeSheet } from "./shown.ts";

/** Rows of a recipe nobody has written yet. */
const FIRST_ROWS = 6;
/** What goes into the bath, as most certificates number it. */
const BATH = "9";

const forEveryone = { config: { access: "everyone" } } as const;

/** What blends are mixed from: everybody reads and weighs, the owner writes. */
export async function recipeRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/recipes", forEveryone, async (request, reply) => {
    const recipes = await listRecipes(db, todayFor(request));
    const owner = request.person?.role === "owner";
    return render(request, reply, RecipesPage, { recipes, owner }, { title: "Recipes", place: "Bench" });
  });

  app.get("/recipes/:id", forEveryone, (request, reply) => showRecipe(request, reply));

  app.get("/recipes/:id/new", async (request, reply) => {
    const blendId = idInPath(request, "blend");
    return showForm(request, reply, freshForm(await startingFrom(blendId, todayFor(request))), 200);
  });

  app.post("/recipes/:id", async (request, reply) => {
    const blendId = idInPath(request, "blend");
    const pressed = fieldOf(request.body, "save");
    if (pressed === "one-more-part") return showForm(request, reply, withOneMore(request.body), 200);
    if (pressed === "reckon") return showReckoned(request, reply);
    return takeForm(parts, request, reply, {
      schema: versionForm,
      command: (transaction, actor, draft) => addVersion(transaction, actor, { ...draft, blendId }),
      whereTo: ({ version }) => `/recipes/${blendId}?version=${version}`,
      mistakeFor,
      showAgain: (answer, status) => showForm(request, reply, answer, status),
    });
  });

  /** The version that is asked for, else the one that holds today, else the newest. */
  async function showRecipe(request: FastifyRequest, reply: FastifyReply) {
    const blend = await findBlendLook(db, idInPath(request, "blend"));
    if (!blend) throw notFound("blend");
    const versions = await listVersions(db, blend.id, todayFor(request));
    const asked = fieldOf(request.query, "version");
    const wanted = asked === undefined ? undefined : idField().safeParse(asked).data;
    const shown =
      asked === undefined
        ? (versions.find(({ holds }) => holds) ?? versions[0])
        : versions.find(({ version }) => version === wanted);
    if (asked !== undefined && !shown) throw notFound("version");
    const { answer, scaling, status } = await scalingOf(request.query);
    const shownParts = shown ? ((await readParts(db, [shown.id])).get(shown.id) ?? []) : [];
    const props = {
      ...{ blend, versions, answer, owner: request.person?.role === "owner" },
      shown: shown ?? null,
      sheet: shown ? recipeSheet(shown, shownParts, await shapesOfBlend(db, blend.id), scaling) : null,
    };
    const title = `Recipe of ${blend.name}`;
    return render(request, reply, RecipePage, props, { title, place: "Bench", status });
  }

  /** A full bowl on a scale of whole grams unless something else is asked for. */
  async function scalingOf(query: unknown) {
    const bowl = await readBowlMilligrams(db);
    const usual = { for: String(bowl / 1_000_000), unit: "kg", scale: "1000" };
    const typed = { ...usual, ...asTyped(query) };
    const read = readForm(scalingForm, typed);
    if (!read.ok) {
      const scaling = { mixMilligrams: bowl, stepMilligrams: 1000, inOunces: false };
      return { answer: read.refusal, scaling, status: 422 };
    }
    const { amount, stepMilligrams } = read.value;
    const mixMilligrams = toMilligrams(massOf(amount));
    const scaling = { mixMilligrams, stepMilligrams, inOunces: isOunces(amount.unit) };
    return { answer: freshForm(typed), scaling, status: 200 };
  }

  /** What the form holds at first: the newest version as it was written, or empty rows. */
  async function startingFrom(blendId: number, today: string): Promise<FormAnswer["typed"]> {
    const [newest] = await listVersions(db, blendId, today);
    const blank = Array.from({ length: FIRST_ROWS }, () => "");
    if (!newest) {
      const lists = partLists.map((name) => [name, blank]);
      return {
        ...Object.fromEntries(lists),
        ...{ category: BATH, validFrom: today, writtenFor: "1", writtenForUnit: "kg" },
      };
    }
    const written = (await readParts(db, [newest.id])).get(newest.id) ?? [];
    const { writtenForThousandths } = newest;
    return {
      category: newest.category,
      validFrom: today,
      writtenFor: writtenForThousandths === null ? "" : String(writtenForThousandths / 1000),
      writtenForUnit: newest.writtenForUnit ?? "kg",
      partSupply: written.map(({ supplyId }) => String(supplyId)),
      partAmount: written.map(({ thousandths }) => String(thousandths / 1000)),
      partUnit: written.map(({ unit }) => unit),
      partPhase: written.map(({ phase }) => phase),
    };
  }

  /** What the form would come to, without keeping it. */
  async function showReckoned(request: FastifyRequest, reply: FastifyReply) {
    const form = readForm(versionForm, request.body);
    if (!form.ok) return showForm(request, reply, form.refusal, 422);
    const answer = freshForm(asTyped(request.body));
    const reckoned = await reckonVersion(db, form.value);
    if (reckoned.ok) return showForm(request, reply, answer, 200, reckoned.value);
    const { field, sentence, status = 422 } = mistakeFor(reckoned.refusal);
    return showForm(request, reply, withMistake(answer, field, sentence), status);
  }

  async function showForm(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
    reckoned: ReckonedVersion | null = null,
  ) {
    const blend = await findBlendLook(db, idInPath(request, "blend"));
    if (!blend) throw notFound("blend");
    const props = { blend, ingredients: await listIngredientChoices(db), answer, reckoned };
    const title = `New recipe of ${blend.name}`;
    return render(request, reply, RecipeFormPage, props, { title, place: "Setup", status });
  }
}

function withOneMore(body: unknown): FormAnswer {
  const answer = freshForm(asTyped(body));
  const longer = partLists.map((name) => [name, [...typedList(answer, name), ""]]);
  return freshForm({ ...answer.typed, ...Object.fromEntries(longer) });
}

function mistakeFor(refusal: VersionRefusal): Mistake {
  if (refusal.kind === "not-found") throw notFound("blend");
  return versionMistake(refusal);
}
