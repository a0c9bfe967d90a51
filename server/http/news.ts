import { Readable } from "node:stream";
import type { FastifyInstance } from "fastify";
import type { Database } from "../../db/connect.ts";
import type { NewsChannel } from "../../views/layout/pageContext.ts";
import { NewsBell } from "./newsBell.ts";

/** A watcher is told at most so often; what happens in between is told at once after it. */
const TELL_AT_MOST_EVERY_MS = 250;

/** A line that says nothing, so that a connection nobody holds any more is noticed. */
const STILL_HERE_EVERY_MS = 20_000;

/**
 * Server-sent events below a place such as "/bench": one named as the channel whenever something has changed, by whom
 * and on which server ever. It says nothing of what: the page asks again, and is answered by whoever may see it then.
 */
export function registerNews(app: FastifyInstance, db: Database, channel: NewsChannel): void {
  const bell = new NewsBell(db, channel);
  app.addHook("preClose", async () => bell.close());

  app.get(`/${channel}/news`, { config: { access: "everyone" } }, (request, reply) => {
    // Whoever comes here by hand wants the page.
    if (!request.headers.accept?.includes("text/event-stream")) return reply.redirect(`/${channel}`, 303);
    return reply
      .type("text/event-stream")
      .header("Cache-Control", "no-store")
      .send(Readable.from(news(bell, `event: ${channel}\ndata: changed\n\n`), { objectMode: true }));
  });
}

/** The first event comes at once: between the page and its stream something may have changed. */
async function* news(bell: NewsBell, changed: string): AsyncGenerator<string> {
  const watch = await bell.watch();
  try {
    yield changed;
    while (!bell.closed.aborted) {
      const patience = AbortSignal.any([AbortSignal.timeout(STILL_HERE_EVERY_MS), bell.closed]);
      const hasRung = await watch.news(patience);
      if (bell.closed.aborted) return;
      yield hasRung ? changed : ": still here\n\n";
      await new Promise((resolve) => setTimeout(resolve, TELL_AT_MOST_EVERY_MS));
    }
  } finally {
    watch.leave();
  }
}
