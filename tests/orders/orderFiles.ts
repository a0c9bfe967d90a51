import { randomUUID } from "node:crypto";
import type { LightMyRequestResponse } from "fastify";
import type { Visitor } from "../build/visitor.ts";

/** How a maker sends, pastes and takes files of orders. */
export interface OrderFiles {
  /** Sends a file; answers with the preview, the names asked about, or what is wrong. */
  look(
    content: string | Buffer,
    given?: { readonly name?: string; readonly dates?: string; readonly pasted?: string },
  ): Promise<LightMyRequestResponse>;
  paste(text: string): Promise<LightMyRequestResponse>;
  /** Says what unknown names mean, by the words of the name and the value of the choice. */
  answer(
    page: string,
    answers: Readonly<Record<string, string>>,
    formToken?: string,
  ): Promise<LightMyRequestResponse>;
  /** Presses the preview's button, under a number of its own unless told otherwise. */
  take(preview: string, formToken?: string): Promise<LightMyRequestResponse>;
}

const FROM = { from: "/orders/import" };

export function orderFiles(owner: () => Visitor): OrderFiles {
  const look: OrderFiles["look"] = (content, { name = "week.csv", ...fields } = {}) =>
    owner().postFile("/orders/import", { field: "file", name, content }, { ...FROM, fields });
  return {
    look,
    paste: (pasted) => look("", { name: "", pasted }),
    answer: (page, answers, formToken = randomUUID()) => {
      const names = [
        ...page.matchAll(/name="name_is" value="(\w+)"\/?><input[^>]*name="name_written" value="([^"]*)"/g),
      ];
      const fields = {
        ...carriedBy(page),
        name_is: names.map(([, what]) => what ?? ""),
        name_written: names.map(([, , written]) => unescaped(written ?? "")),
        name_means: names.map(([, , written]) => answers[unescaped(written ?? "")] ?? ""),
      };
      return owner().post("/orders/import/names", fields, { ...FROM, formToken });
    },
    take: (preview, formToken = randomUUID()) =>
      owner().post("/orders/import/taking", carriedBy(preview), { ...FROM, formToken }),
  };
}

function carriedBy(page: string) {
  const value = (name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1] ?? "";
  return {
    file_name: value("file_name"),
    file: value("file"),
    dates: value("dates"),
    currency: value("currency"),
  };
}

function unescaped(attribute: string): string {
  return attribute.replaceAll("&quot;", '"').replaceAll("&lt;", "<").replaceAll("&amp;", "&");
}

/** The bad lines as the page tells them: line number and sentences. */
export function badLines(body: string): Record<string, string> {
  const rows = body.matchAll(/data-label="Line">([^<]*)<\/th><td class="as-typed">([^<]*)</g);
  return Object.fromEntries([...rows].map(([, line, sentences]) => [line, sentences ?? ""]));
}
