import fastifyMultipart from "@fastify/multipart";
import type { FastifyInstance, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import type { ImportFailure } from "../../views/orders/ImportPage.tsx";
import { fieldOf } from "../http/formFields.ts";
import type { OrderFile } from "./examineOrderFile.ts";
import { dateHabits } from "./fileDates.ts";
import { MOST_FILE_BYTES } from "./orderFileLimits.ts";

/** What one upload may hold: a file, what was pasted, the way of dates, the form's two tokens, and a number to watch it by. */
const UPLOAD_LIMITS = {
  files: 1,
  fields: 5,
  parts: 7,
  fieldSize: MOST_FILE_BYTES + 1,
  fileSize: MOST_FILE_BYTES,
};

const UNREADABLE = "The file did not arrive whole. Go back and send it again.";

/** Bodies with a file in them, for the routes around it. */
export async function takeUploads(app: FastifyInstance): Promise<void> {
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

/** The parts of the multipart body that matter here. */
const uploadedFile = z.object({
  file: z.object({
    type: z.literal("file"),
    filename: z.string().catch(""),
    file: z.object({ truncated: z.boolean() }),
    toBuffer: z.custom<() => Promise<Buffer>>((given) => typeof given === "function"),
  }),
});

const pastedText = z.string().catch("");
const dateHabit = z.enum(dateHabits).catch("iso");

/** The form's other fields as they were typed, for showing it again. */
export function typedUpload(body: unknown): FormAnswer {
  return freshForm({
    pasted: pastedText.parse(fieldOf(body, "pasted")),
    dates: dateHabit.parse(fieldOf(body, "dates")),
  });
}

/** The file that was sent, or what was pasted; or why there is none. */
export async function uploadOf(body: unknown): Promise<OrderFile | ImportFailure> {
  const dates = dateHabit.parse(fieldOf(body, "dates"));
  const pasted = pastedText.parse(fieldOf(body, "pasted"));
  const sent = await sentFile(body);
  if (sent === "too-large" || Buffer.byteLength(pasted) > MOST_FILE_BYTES) return { is: "too-large" };
  if (pasted.trim() === "") return sent ? { ...sent, dates } : { is: "no-file" };
  if (sent) return { is: "both" };
  return { name: "what was pasted", bytes: Buffer.from(pasted), dates };
}

async function sentFile(body: unknown): Promise<Pick<OrderFile, "name" | "bytes"> | "too-large" | null> {
  const parsed = uploadedFile.safeParse(body);
  if (!parsed.success) return null;
  const { filename, file } = parsed.data.file;
  if (file.truncated) return "too-large";
  const bytes = await (body as { file: { toBuffer(): Promise<Buffer> } }).file.toBuffer();
  return filename === "" && bytes.length === 0 ? null : { name: filename.slice(0, 200) || "the file", bytes };
}
