import { randomUUID } from "node:crypto";
import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from "fastify";

type Fields = Readonly<Record<string, string | readonly string[]>>;

/**
 * A browser without a screen: keeps its cookie, reads the token from the page it stands on, sends forms as
 * browsers do. `post` sends a form found on `from`; the same `formToken` given twice is the same form sent twice.
 */
export class Visitor {
  readonly #app: FastifyInstance;
  #cookie = "";

  constructor(app: FastifyInstance) {
    this.#app = app;
  }

  /** As the browser would send it; empty before there is one. */
  get cookie(): string {
    return this.#cookie;
  }

  async get(url: string, headers: Record<string, string> = {}): Promise<LightMyRequestResponse> {
    return this.#keepCookie(await this.#app.inject({ method: "GET", url, headers: this.#with(headers) }));
  }

  async post(
    url: string,
    fields: Fields,
    options: {
      readonly from?: string;
      readonly formToken?: string;
      readonly headers?: Record<string, string>;
    } = {},
  ): Promise<LightMyRequestResponse> {
    const body = new URLSearchParams({
      _csrf: await this.csrfToken(options.from ?? "/sign-in"),
      form_token: options.formToken ?? randomUUID(),
    });
    for (const [name, value] of Object.entries(fields)) {
      for (const one of typeof value === "string" ? [value] : value) body.append(name, one);
    }
    const headers = { "content-type": "application/x-www-form-urlencoded", ...options.headers };
    return this.#keepCookie(
      await this.#app.inject({ method: "POST", url, headers: this.#with(headers), payload: body.toString() }),
    );
  }

  /** Sends anything at all, with the cookie: what no browser of ours would send. */
  async send(request: InjectOptions): Promise<LightMyRequestResponse> {
    const headers = this.#with(request.headers as Record<string, string>);
    return this.#keepCookie(await this.#app.inject({ ...request, headers }));
  }

  /** Sends a file with a form, as `multipart/form-data` (RFC 7578). */
  async postFile(
    url: string,
    file: { readonly field: string; readonly name: string; readonly content: Buffer | string },
    options: {
      readonly from?: string;
      readonly fields?: Readonly<Record<string, string>>;
      readonly formToken?: string;
    } = {},
  ): Promise<LightMyRequestResponse> {
    const form = new FormData();
    form.append("_csrf", await this.csrfToken(options.from ?? "/sign-in"));
    form.append("form_token", options.formToken ?? randomUUID());
    for (const [name, value] of Object.entries(options.fields ?? {})) form.append(name, value);
    form.append(file.field, new Blob([file.content as BlobPart], { type: "text/csv" }), file.name);
    const encoded = new Response(form);
    return this.#keepCookie(
      await this.#app.inject({
        method: "POST",
        url,
        headers: this.#with({ "content-type": encoded.headers.get("content-type") ?? "" }),
        payload: Buffer.from(await encoded.arrayBuffer()),
      }),
    );
  }

  /** The token that a form on this page carries. */
  async csrfToken(page: string): Promise<string> {
    const answer = await this.get(page);
    const token = /name="_csrf" value="([^"]+)"/.exec(answer.body)?.[1];
    if (!token) throw new Error(`No form stands on ${page} (status ${answer.statusCode})`);
    return token;
  }

  #with(headers: Record<string, string>): Record<string, string> {
    return this.#cookie ? { cookie: this.#cookie, ...headers } : headers;
  }

  #keepCookie(response: LightMyRequestResponse): LightMyRequestResponse {
    for (const cookie of response.cookies) {
      if (cookie.name === "halfmold") this.#cookie = cookie.value ? `halfmold=${cookie.value}` : "";
    }
    return response;
  }
}
