import { randomUUID } from "node:crypto";

type FormFields = Readonly<Record<string, string | readonly string[]>>;

/** A person's browser reduced to what the server sees of it: a cookie, and forms with the token of their page. */
export class HttpVisitor {
  readonly #address: string;
  #cookie = "";

  constructor(address: string) {
    this.#address = address;
  }

  async get(path: string): Promise<Response> {
    return this.#send(path, {});
  }

  /** Fills in and sends a form that stands on `page`. */
  async post(path: string, page: string, fields: FormFields): Promise<Response> {
    return this.send(path, { _csrf: await this.csrfToken(page), form_token: randomUUID(), ...fields });
  }

  /** The token that a form on this page carries. */
  async csrfToken(page: string): Promise<string> {
    const token = /name="_csrf" value="([^"]+)"/.exec(await (await this.get(page)).text())?.[1];
    if (token === undefined) throw new Error(`No form stands on ${page}`);
    return token;
  }

  /** Sends a form as it is, its tokens among the fields; a field with several values is sent several times. */
  async send(path: string, fields: FormFields): Promise<Response> {
    const body = new URLSearchParams();
    for (const [name, value] of Object.entries(fields)) {
      for (const one of typeof value === "string" ? [value] : value) body.append(name, one);
    }
    return this.#send(path, { method: "POST", body });
  }

  async #send(path: string, request: RequestInit): Promise<Response> {
    const answer = await fetch(this.#address + path, {
      ...request,
      redirect: "manual",
      headers: { cookie: this.#cookie },
    });
    for (const cookie of answer.headers.getSetCookie()) this.#cookie = cookie.split(";")[0] ?? "";
    return answer;
  }
}
