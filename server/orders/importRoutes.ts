import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { FileNamesPage } from "../../views/orders/FileNamesPage.tsx";
import { FileProgressNow } from "../../views/orders/FileProgress.tsx";
import { type ImportFailure, ImportPage } from "../../views/orders/ImportPage.tsx";
import { PreviewPage } from "../../views/orders/PreviewPage.tsx";
import { RememberedNamesPage } from "../../views/orders/RememberedNamesPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { fieldOf } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { actorOf } from "../http/visitor.ts";
import { examineOrderFile, type OrderFile } from "./examineOrderFile.ts";
import { typedAnswers } from "./fileAnswers.ts";
import { dateHabits } from "./fileDates.ts";
import { askedName, listRememberedNames, nameChoices } from "./fileNameChoices.ts";
import { unknownNames } from "./fileNames.ts";
import { answerMistakeWords } from "./fileSentences.ts";
import { FilesInWork } from "./filesInWork.ts";
import { forgetFileName } from "./forgetFileName.ts";
import { takeUploads, typedUpload, uploadOf } from "./importUpload.ts";
import { MOST_FILE_BYTES } from "./orderFileLimits.ts";
import { rememberFileNames } from "./rememberFileNames.ts";
import { carriedFile, importFailure, previewOf } from "./shownFile.ts";
import { takeOrderFile } from "./takeOrderFile.ts";

/** The confirming form carries the file as base64url (RFC 4648, section 5): four characters for three bytes. */
const CARRIED_CHARACTERS = Math.ceil((MOST_FILE_BYTES * 4) / 3);
const CARRYING_BODY_BYTES = CARRIED_CHARACTERS + 256 * 1024;

const carriedFields = {
  file_name: z.string().max(300),
  file: z
    .string()
    .max(CARRIED_CHARACTERS)
    .regex(/^[A-Za-z0-9_-]+$/)
    .transform((carried) => Buffer.from(carried, "base64url")),
  dates: z.enum(dateHabits).default("iso"),
};

const carryingForm = z.object(carriedFields).transform(carriedBack);
const takingForm = z
  .object({ ...carriedFields, currency: z.string().max(3).default("") })
  .transform((sent) => ({ file: carriedBack(sent), currency: sent.currency }));

function carriedBack(sent: z.output<z.ZodObject<typeof carriedFields>>): OrderFile {
  return { name: sent.file_name, bytes: sent.file, dates: sent.dates };
}

/**
 * Taking orders from a file: first a look at what would be taken, with a question about each name that nobody knows,
 * then taking it. No order is kept between the two; the forms carry the file, and it is read and checked again.
 */
export async function orderImportRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const inWork = new FilesInWork();
  await takeUploads(app);

  app.get("/orders/import", (request, reply) => showImport(request, reply, { failure: null }, 200));

  app.post("/orders/import", async (request, reply) => {
    const typed = typedUpload(request.body);
    const upload = await uploadOf(request.body);
    if ("is" in upload)
      return showImport(request, reply, { failure: upload, typed }, upload.is === "too-large" ? 413 : 422);
    return showLook(request, reply, upload, typed);
  });

  app.post("/orders/import/names", { bodyLimit: CARRYING_BODY_BYTES }, async (request, reply) => {
    const form = readForm(carryingForm, request.body);
    if (!form.ok) return showImport(request, reply, { failure: { is: "no-file" } }, 422);
    const file = form.value;
    const answers = typedAnswers(request.body);
    const at = clock.now();
    const remembered = await actOnce(
      db,
      request,
      at,
      (transaction) => rememberFileNames(transaction, actorOf(request, at), { file, answers }),
      () => "/orders/import/names",
    );
    if (remembered.ok) return showLook(request, reply, file);
    const mistakes = new Map(remembered.refusal.map((refusal) => [refusal.key, answerMistakeWords(refusal)]));
    return showLook(request, reply, file, undefined, { answers, mistakes });
  });

  app.post("/orders/import/taking", { bodyLimit: CARRYING_BODY_BYTES }, async (request, reply) => {
    const form = readForm(takingForm, request.body);
    if (!form.ok) return showImport(request, reply, { failure: { is: "no-file" } }, 422);
    const at = clock.now();
    const taken = await actOnce(
      db,
      request,
      at,
      (transaction) =>
        inWork.follow(watchOf(request), (tell) =>
          takeOrderFile(transaction, actorOf(request, at), form.value, tell),
        ),
      (counts) => (counts.taken > 0 ? `/orders?taken=${counts.taken}` : "/orders"),
    );
    if (taken.ok) return reply.redirect(taken.value, 303);
    const { checked, known } = taken.refusal;
    const failure = importFailure(form.value.file.name, checked, known);
    return showImport(request, reply, { failure }, 409);
  });

  app.get("/orders/import/progress", (request, reply) => {
    const asking = askedProgress.safeParse(request.query);
    if (!asking.success) throw notFound("file");
    const props = { ...asking.data, progress: inWork.progressOf(asking.data.watch) };
    return render(request, reply, FileProgressNow, props, { title: "How far a file is", place: "Orders" });
  });

  app.get("/orders/import/names", (request, reply) => showRemembered(request, reply, 200));

  app.post("/orders/import/names/:id/forgetting", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => forgetFileName(transaction, actor, idInPath(request, "name")),
      whereTo: () => "/orders/import/names",
      mistakeFor: () => {
        throw notFound("name");
      },
      showAgain: (_, status) => showRemembered(request, reply, status),
    }),
  );

  /** What is wrong with the file, or what its unknown names mean, or what would be taken. */
  async function showLook(
    request: FastifyRequest,
    reply: FastifyReply,
    file: OrderFile,
    typed?: FormAnswer,
    answered?: {
      readonly answers: ReadonlyMap<string, string>;
      readonly mistakes: ReadonlyMap<string, string>;
    },
  ): Promise<FastifyReply> {
    const { checked, known } = await inWork.follow(watchOf(request), (tell) =>
      examineOrderFile(db, clock.now(), file, tell),
    );
    const names = unknownNames(checked.mistakes);
    if (names) {
      const asked = names.map((name) => ({
        ...askedName(name, known),
        chosen: answered?.answers.get(name.key) ?? "",
        mistake: answered?.mistakes.get(name.key) ?? null,
      }));
      const props = { carried: carriedFile(file), names: asked, choices: await nameChoices(db, known) };
      const head = { title: "Names in a file", place: "Orders", status: answered ? 422 : 200 } as const;
      return render(request, reply, FileNamesPage, props, head);
    }
    if (checked.mistakes.length > 0)
      return showImport(request, reply, { failure: importFailure(file.name, checked, known), typed }, 422);
    const props = previewOf(file, checked, known.currency);
    return render(request, reply, PreviewPage, props, { title: "Orders from a file", place: "Orders" });
  }

  async function showRemembered(request: FastifyRequest, reply: FastifyReply, status: number) {
    const props = { names: await listRememberedNames(db) };
    const head = { title: "Names in files", place: "Orders", status } as const;
    return render(request, reply, RememberedNamesPage, props, head);
  }
}

/** The number under which a form wants to ask how far its file is; "" where it will not. */
function watchOf(request: FastifyRequest): string {
  return z.uuid().catch("").parse(fieldOf(request.body, "watch"));
}

const askedProgress = z.object({
  watch: z.uuid(),
  asked: z
    .string()
    .regex(/^\d{1,4}$/)
    .transform(Number),
});

function showImport(
  request: FastifyRequest,
  reply: FastifyReply,
  { failure, typed }: { readonly failure: ImportFailure | null; readonly typed?: FormAnswer | undefined },
  status: number,
): FastifyReply {
  const head = { title: "Orders from a file", place: "Orders", status } as const;
  return render(request, reply, ImportPage, { failure, typed: typed ?? null }, head);
}
