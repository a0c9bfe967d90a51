import type { FastifyReply } from "fastify";
import { type Paper, paperTitle } from "../../views/papers/paper.ts";
import { drawPaper } from "./drawPaper.ts";

/** Sends a paper as a PDF file with a name of its own; it is made anew each time and kept by nobody in between. */
export async function sendPaper(
  reply: FastifyReply,
  paper: Paper,
  size: "A4" | "Letter",
): Promise<FastifyReply> {
  const name = paperTitle(paper)
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-");
  return reply
    .header("Content-Disposition", `attachment; filename="${name}.pdf"`)
    .header("Cache-Control", "no-store")
    .type("application/pdf")
    .send(await drawPaper(paper, size));
}
