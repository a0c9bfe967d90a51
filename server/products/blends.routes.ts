import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { BlendPage, PatternChoice } from "../../views/setup/BlendPage.tsx";
import { BlendsPage } from "../../views/setup/BlendsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { addBlend } from "./addBlend.ts";
import { changeBlend } from "./changeBlend.ts";
import { blendForm, newBlendForm } from "./forms.ts";
import { findBlend, listBlends } from "./queries.ts";
import { bringBackBlend, retireBlend } from "./retireBlend.ts";

export async function blendRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/blends", async (request, reply) => {
    const blends = await listBlends(db);
    return render(request, reply, BlendsPage, { blends }, { title: "Blends", place: "Setup" });
  });

  app.get("/setup/blends/new", (request, reply) =>
    showNew(request, reply, freshForm({ colour: "#c98a3d", pattern: "plain" }), 200),
  );

  app.get("/setup/blends/patterns", (request, reply) => {
    const answer = freshForm(asTyped(request.query));
    return render(request, reply, PatternChoice, { answer }, { title: "Patterns", place: "Setup" });
  });

  app.post("/setup/blends", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newBlendForm,
      command: addBlend,
      whereTo: () => "/setup/blends",
      mistakeFor,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/blends/:id", (request, reply) => showBlend(request, reply, null, 200));

  app.post("/setup/blends/:id", (request, reply) => {
    const blendId = idInPath(request, "blend");
    return takeForm(parts, request, reply, {
      schema: blendForm,
      command: (transaction, actor, looks) => changeBlend(transaction, actor, { ...looks, blendId }),
      whereTo: () => "/setup/blends",
      mistakeFor,
      showAgain: (answer, status) => showBlend(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/blends/:id/retirement", command: retireBlend },
    { path: "/setup/blends/:id/return", command: bringBackBlend },
  ]) {
    app.post(path, (request, reply) => {
      const blendId = idInPath(request, "blend");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { blendId }),
        whereTo: () => "/setup/blends",
        mistakeFor,
        showAgain: (answer, status) => showBlend(request, reply, answer, status),
      });
    });
  }

  /** The blend as it is, or with what was typed. */
  async function showBlend(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const blend = await findBlend(db, idInPath(request, "blend"));
    if (!blend) throw notFound("blend");
    const { name, colour, pattern, shade } = blend;
    const props = { blend, answer: answer ?? freshForm({ name, colour, pattern, shade: String(shade) }) };
    return render(request, reply, BlendPage, props, { title: name, place: "Setup", status });
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { blend: null, answer };
  return render(request, reply, BlendPage, props, { title: "New blend", place: "Setup", status });
}

function mistakeFor(refusal: "not-found" | "code-taken" | "name-taken"): Mistake {
  if (refusal === "not-found") throw notFound("blend");
  return refusal === "code-taken"
    ? { field: "code", sentence: "Another blend has this code: give one of its own." }
    : { field: "name", sentence: "Another blend has this name: call it something else." };
}
