import fastifyMultipart from "@fastify/multipart";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { ImportPage } from "../../views/orders/ImportPage.tsx";
import { PreviewPage } from "../../views/orders/PreviewPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf } from "../http/visitor.ts";
import { examineOrderFile } from "./examineOrderFile.ts";
import { MOST_FILE_BYTES } from "./orderFileLimits.ts";
import { importFailure, type OrderFile, previewOf } from "./shownFile.ts";
import { takeOrderFile } from "./takeOrderFile.ts";

/** What one upload may hold: the file, the form's two tokens, and no long fields. */
const UPLOAD_LIMITS = { files: 1, fields: 4, parts: 6, fieldSize: 4096, fileSize: MOST_FILE_BYTES };

/** The confirming form carries the file as base64url (RFC 4648, section 5): four characters for three bytes. */
const CARRIED_CHARACTERS = Math.ceil((MOST_FILE_BYTES * 4) / 3);
const CONFIRMING_BODY_BYTES = CARRIED_CHARACTERS + 64 * 1024;

const UNREADABLE = "The file did not arrive whole. Go back and send it again.";

const confirmingForm = z.object({
  file_name: z.string().max(300),
  file: z
    .string()
    .max(CARRIED_CHARACTERS)
    .regex(/^[A-Za-z0-9_-]+$/)
    .transform((carried) => Buffer.from(carried, "base64url")),
});

/**
 * Taking orders from a file: first a look at what would be taken, then taking it. Nothing is kept between the two;
 * the second form carries the file, and it is read and checked again.
 */
export async function orderImportRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  await takeUploads(app);

  app.get("/orders/import", (request, reply) => showImport(request, reply, null, 200));

  app.post("/orders/import", async (request, reply) => {
    const upload = await uploadOf(request.body);
    if (upload === null) return showImport(request, reply, { is: "no-file" }, 422);
    if (upload === "too-large") return showImport(request, reply, { is: "too-large" }, 413);
    const { checked, known } = await examineOrderFile(db, clock.now(), upload.bytes);
    if (checked.mistakes.length > 0)
      return showImport(request, reply, importFailure(upload.name, checked, known), 422);
    const props = previewOf(upload, checked);
    return render(request, reply, PreviewPage, props, { title: "Orders from a file", place: "Orders" });
  });

  app.post("/orders/import/taking", { bodyLimit: CONFIRMING_BODY_BYTES }, async (request, reply) => {
    const form = readForm(confirmingForm, request.body);
    if (!form.ok) return showImport(request, reply, { is: "no-file" }, 422);
    const at = clock.now();
    const taken = await actOnce(
      db,
      request,
      at,
      (transaction) => takeOrderFile(transaction, actorOf(request, at), { file: form.value.file }),
      (counts) => (counts.taken > 0 ? `/orders?taken=${counts.taken}` : "/orders"),
    );
    if (taken.ok) return reply.redirect(taken.value, 303);
    const { checked, known } = taken.refusal;
    return showImport(request, reply, importFailure(form.value.file_name, checked, known), 409);
  });
}

/** Bodies with a file in them, for the routes around it. */
async function takeUploads(app: FastifyInstance): Promise<void> {
  const beingRead = new WeakSet<FastifyRequest>();
  app.addHook("preValidation", async (request) => void beingRead.add(request));
  await app.register(fastifyMultipart, {
    attachFieldsToBody: true,
    throwFileSizeLimit: false,
    limits: UPLOAD_LIMITS,
  });
  app.addHook("preValidation", async (request) => void beingRead.delete(request));
  // A body that ends in the middle, or is not what it says it is: the parser's own errors have no status.
  app.setErrorHandler((error, request) => {
    throw beingRead.has(request) && !hasStatus(error)
      ? Object.assign(new Error(UNREADABLE), { statusCode: 400 })
      : error;
  });
}

function hasStatus(error: unknown): boolean {
  return typeof error === "object" && error !== null && "statusCode" in error;
}

function showImport(
  request: FastifyRequest,
  reply: FastifyReply,
  failure: Parameters<typeof ImportPage>[0]["failure"],
  status: number,
): FastifyReply {
  const head = { title: "Orders from a file", place: "Orders", status } as const;
  return render(request, reply, ImportPage, { failure }, head);
}

/** The parts of the multipart body that matter here. */
const uploadedFile = z.object({
  file: z.object({
    type: z.literal("file"),
    filename: z.string().catch(""),
    file: z.object({ truncated: z.boolean() }),
    toBuffer: z.custom<() => Promise<Buffer>>((given) => typeof given === "function"),
  }),
});

/** The sent file; null where none was chosen. */
async function uploadOf(body: unknown): Promise<OrderFile | "too-large" | null> {
  const parsed = uploadedFile.safeParse(body);
  if (!parsed.success) return null;
  const { filename, file } = parsed.data.file;
  if (file.truncated) return "too-large";
  const bytes = await (body as { file: { toBuffer(): Promise<Buffer> } }).file.toBuffer();
  return filename === "" && bytes.length === 0 ? null : { name: filename.slice(0, 200) || "the file", bytes };
}
