import type { FastifyReply, FastifyRequest } from "fastify";
import { type ComponentType, h } from "preact";
import { renderToString } from "preact-render-to-string";
import { Page } from "../../views/layout/Page.tsx";
import { type NewsChannel, PageContext, type Place } from "../../views/layout/pageContext.ts";
import { assetVersion } from "./assets.ts";

interface PageHead {
  /** What the browser's tab says, before the workshop's name. */
  readonly title: string;
  /** Which of the places in the navigation this page belongs to. */
  readonly place?: Place;
  /** What the page is told of while it stands open; its content then has `PageNews`. */
  readonly news?: NewsChannel;
  /** 200 where left out; 422 for a form with mistakes, 409 for a clash. */
  readonly status?: number;
}

/**
 * Answers with a view: the whole page, or only what stands in its main part when htmx asks for a fragment.
 * Boosted requests and restored history get the whole page, as their answer replaces the document.
 */
export function render<Props extends object>(
  request: FastifyRequest,
  reply: FastifyReply,
  View: ComponentType<Props>,
  props: Props,
  head: PageHead,
): FastifyReply {
  const content = h(View, props);
  const body = wantsFragment(request)
    ? h(PageContext.Provider, { value: contextOf(request, reply, head) }, content)
    : h(
        PageContext.Provider,
        { value: contextOf(request, reply, head) },
        h(Page, { title: head.title, children: content }),
      );
  const html = renderToString(body);
  return reply
    .code(head.status ?? 200)
    .header("Vary", "HX-Request")
    .header("Cache-Control", "no-store")
    .type("text/html; charset=utf-8")
    .send(wantsFragment(request) ? html : `<!doctype html>${html}`);
}

/** A view by itself, to be sent in a stream of events or beside another. */
export function drawFragment<Props extends object>(
  request: FastifyRequest,
  reply: FastifyReply,
  View: ComponentType<Props>,
  props: Props,
  head: PageHead,
): string {
  const value = contextOf(request, reply, head);
  return renderToString(h(PageContext.Provider, { value }, h(View, props)));
}

function wantsFragment(request: FastifyRequest): boolean {
  const { headers } = request;
  return (
    headers["hx-request"] === "true" &&
    headers["hx-boosted"] !== "true" &&
    headers["hx-history-restore-request"] !== "true" &&
    headers["hx-request-type"] !== "full"
  );
}

function contextOf(request: FastifyRequest, reply: FastifyReply, head: PageHead): PageContext {
  let csrfToken: string | undefined;
  return {
    place: head.place ?? null,
    news: head.news ?? null,
    bare: request.routeOptions.config.frame === "bare",
    path: request.url,
    person: request.person,
    workshop: request.workshop,
    // Made by the first form of the page. A page without one, above all the one that says that the database cannot be
    // reached, then needs no sign-in to be kept.
    get csrfToken() {
      csrfToken ??= reply.generateCsrf();
      return csrfToken;
    },
    assetVersion,
  };
}
