import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { BatchSheetPage } from "../../views/batches/BatchSheetPage.tsx";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { recordForm, tickForm } from "./forms.ts";
import { type BatchRefusal, batchRefusalWords } from "./holdRun.ts";
import { type Batch, findBatch } from "./queries.ts";
import { tickPart } from "./tickPart.ts";
import { weighOut } from "./weighOut.ts";
import { writeRecord } from "./writeRecord.ts";

const everyone = { config: { access: "everyone" } } as const;

/** The batch sheet of a run: on paper before it, on the phone beside the bowl, and kept after it. */
export async function batchRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const address = "/bench/runs/:id/sheet";

  app.get(address, everyone, (request, reply) => showSheet(request, reply, null, 200));

  app.post(address, everyone, (request, reply) => {
    const runId = idInPath(request, "run");
    return takeForm(parts, request, reply, {
      schema: recordForm,
      command: (transaction, actor, record) => writeRecord(transaction, actor, { ...record, runId }),
      whereTo: () => sheetAddress(runId),
      mistakeFor,
      showAgain: (answer, status) => showSheet(request, reply, answer, status),
    });
  });

  app.post(`${address}/ticks`, everyone, (request, reply) => {
    const runId = idInPath(request, "run");
    return takeForm(parts, request, reply, {
      schema: tickForm,
      command: (transaction, actor, tick) => tickPart(transaction, actor, { ...tick, runId }),
      whereTo: () => sheetAddress(runId),
      mistakeFor,
      // A tick is nothing that was typed: what is wrong with it is said above the record as it stands.
      showAgain: ({ mistakes }, status) =>
        showSheet(request, reply, null, status, Object.values(mistakes)[0] ?? null),
    });
  });

  async function showSheet(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
    notice: string | null = null,
  ) {
    const batch = await findBatch(db, idInPath(request, "run"));
    if (!batch) throw notFound("run");
    const shown = answer ?? freshForm(typedRecord(batch));
    const props = {
      batch,
      weighed: weighOut(batch),
      answer: notice === null ? shown : withMistake(shown, "", notice),
      now: clock.now(),
      timeZone: workshopOf(request).timeZone,
    };
    return render(request, reply, BatchSheetPage, props, {
      title: `Batch sheet of ${batch.look.name}`,
      place: "Bench",
      news: "bench",
      status,
    });
  }
}

function sheetAddress(runId: number): string {
  return `/bench/runs/${runId}/sheet`;
}

function mistakeFor(refusal: BatchRefusal): Mistake {
  if (refusal.kind === "no-such-run") throw notFound("run");
  return { field: "", sentence: batchRefusalWords(refusal), status: 409 };
}

/** What stands on the sheet, as it would have been typed; at first the air as it was read off that day. */
function typedRecord({ record, sprays, bowls, air }: Batch): FormAnswer["typed"] {
  const isBlank = record.version === 0;
  const celsiusTenths = isBlank ? air?.celsiusTenths : record.roomDecidegrees;
  const percent = isBlank && air ? Math.round(air.humidityTenths / 10) : record.humidityPercent;
  return {
    roomCelsius: celsiusTenths == null ? "" : String(celsiusTenths / 10),
    humidityPercent: percent === null ? "" : String(percent),
    note: record.note,
    sprays: Array.from({ length: bowls }, (_, place) =>
      String(sprays.find(({ bowl }) => bowl === place + 1)?.sprays ?? ""),
    ),
  };
}
