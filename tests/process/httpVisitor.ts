import { randomUUID } from "node:crypto";

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
  async post(path: string, page: string, fields: Readonly<Record<string, string>>): Promise<Response> {
    const token = /name="_csrf" value="([^"]+)"/.exec(await (await this.get(page)).text())?.[1];
    if (token === undefined) throw new Error(`No form stands on ${page}`);
    const body = new URLSearchParams({ _csrf: token, form_token: randomUUID(), ...fields });
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
