import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { TaxGroupPage } from "../../views/setup/TaxGroupPage.tsx";
import { TaxGroupsPage } from "../../views/setup/TaxGroupsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import {
  addTaxGroup,
  bringBackTaxGroup,
  renameTaxGroup,
  retireTaxGroup,
  setTaxRate,
  type TaxRefusal,
} from "./changeTaxes.ts";
import { newTaxGroupForm, taxGroupForm, taxRateForm } from "./forms.ts";
import { findTaxGroup, listTaxGroups } from "./queries.ts";

/** Groups of customers who are taxed alike, and their rates. */
export async function taxRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/setup/taxes", (request, reply) =>
    showGroups(request, reply, freshForm({ validFrom: todayFor(request) }), 200),
  );

  app.post("/setup/taxes", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newTaxGroupForm,
      command: addTaxGroup,
      whereTo: ({ taxGroupId }) => `/setup/taxes/${taxGroupId}`,
      mistakeFor: taxMistake,
      showAgain: (answer, status) => showGroups(request, reply, answer, status),
    }),
  );

  app.get("/setup/taxes/:id", (request, reply) => showGroup(request, reply, {}, 200));

  app.post("/setup/taxes/:id", (request, reply) => {
    const taxGroupId = idInPath(request, "tax group");
    return takeForm(parts, request, reply, {
      schema: taxGroupForm,
      command: (transaction, actor, { name }) => renameTaxGroup(transaction, actor, { taxGroupId, name }),
      whereTo: () => "/setup/taxes",
      mistakeFor: taxMistake,
      showAgain: (answer, status) => showGroup(request, reply, { nameAnswer: answer }, status),
    });
  });

  app.post("/setup/taxes/:id/rates", (request, reply) => {
    const taxGroupId = idInPath(request, "tax group");
    return takeForm(parts, request, reply, {
      schema: taxRateForm,
      command: (transaction, actor, rate) => setTaxRate(transaction, actor, { ...rate, taxGroupId }),
      whereTo: () => `/setup/taxes/${taxGroupId}`,
      mistakeFor: taxMistake,
      showAgain: (answer, status) => showGroup(request, reply, { rateAnswer: answer }, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/taxes/:id/retirement", command: retireTaxGroup },
    { path: "/setup/taxes/:id/return", command: bringBackTaxGroup },
  ]) {
    app.post(path, (request, reply) => {
      const taxGroupId = idInPath(request, "tax group");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { taxGroupId }),
        whereTo: () => "/setup/taxes",
        mistakeFor: taxMistake,
        showAgain: ({ mistakes }, status) => showGroup(request, reply, {}, status, mistakes[""]),
      });
    });
  }

  async function showGroups(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const groups = await listTaxGroups(db, todayFor(request));
    return render(
      request,
      reply,
      TaxGroupsPage,
      { groups, answer },
      { title: "Tax", place: "Setup", status },
    );
  }

  async function showGroup(
    request: FastifyRequest,
    reply: FastifyReply,
    { nameAnswer, rateAnswer }: { readonly nameAnswer?: FormAnswer; readonly rateAnswer?: FormAnswer },
    status: number,
    sentence?: string,
  ) {
    const group = await findTaxGroup(db, idInPath(request, "tax group"));
    if (!group) throw notFound("tax group");
    const today = todayFor(request);
    const named = nameAnswer ?? freshForm({ name: group.name });
    const props = {
      group,
      today,
      nameAnswer: sentence === undefined ? named : withMistake(named, "", sentence),
      rateAnswer: rateAnswer ?? freshForm({ validFrom: today }),
    };
    return render(request, reply, TaxGroupPage, props, { title: group.name, place: "Setup", status });
  }
}

function taxMistake(refusal: TaxRefusal): Mistake {
  switch (refusal) {
    case "not-found":
      throw notFound("tax group");
    case "name-taken":
      return { field: "name", sentence: "Another tax group has this name: tell the two apart." };
    case "in-use":
      return {
        field: "",
        sentence: "Customers are still in it, or it is the usual one: give those another group first.",
        status: 409,
      };
  }
}
