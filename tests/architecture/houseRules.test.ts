import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { projectRoot } from "../../server/basics/projectRoot.ts";
import { sourcesIn } from "./sources.ts";

const sources = sourcesIn("server", "views", "db", "tests");

describe("the house", () => {
  it("has on its top floor only what belongs there", () => {
    const tracked = execFileSync("git", ["ls-files"], { cwd: projectRoot, encoding: "utf8" })
      .trim()
      .split("\n");
    const top = new Set(tracked.map((file) => file.split("/")[0] ?? file));
    const belongs =
      /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|tsconfig\.json|server|views|db|migrations|tests|docker-compose\.yml|LICENSE|\..*)$/;
    expect([...top].filter((name) => !belongs.test(name))).toEqual([]);
  });

  it("names files after what they hold, never after nothing in particular", () => {
    const empty = /(^|\/)(utils?|helpers?|common|misc|managers?|services?|types)(\/|\.tsx?$)/i;
    expect(sources.map((source) => source.path).filter((file) => empty.test(file))).toEqual([]);
  });

  it("keeps the engine deterministic: no clock, no dice but its own, no machine", () => {
    const impure =
      /\bnew Date\b|\bDate\.|\bMath\.random\b|\bperformance\b|\bprocess\.|\bsetTimeout\b|\bcrypto\b/;
    const breaches = sources
      .filter((source) => source.path.startsWith("server/planning/"))
      .filter((source) => impure.test(withoutComments(source.text)))
      .map((source) => source.path);
    expect(breaches).toEqual([]);
  });

  it("keeps nothing that changes in the modules themselves: what a server knows belongs to that server", () => {
    const kept =
      /^(?:export )?(?:let\b|const \w+(?:: (?!Readonly)[^=]+)? = (?:new (?:Map|Set|WeakMap|WeakSet)\b|\[\];|\{\};))/m;
    const breaches = sources
      .filter((source) => !source.path.startsWith("tests/"))
      .filter((source) => kept.test(withoutComments(source.text)))
      .map((source) => source.path);
    expect(breaches).toEqual([]);
  });

  it("sends no page that runs script or style from inside itself", () => {
    const inline = /\bstyle=\{|\bhx-on|dangerouslySetInnerHTML|<script>|\bonclick=/i;
    const breaches = sources
      .filter((source) => source.path.startsWith("views/"))
      .filter((source) => inline.test(withoutComments(source.text)))
      .map((source) => source.path);
    expect(breaches).toEqual([]);
  });

  it("keeps no address of a package registry in the lockfile", () => {
    expect(readFileSync(path.join(projectRoot, "package-lock.json"), "utf8")).not.toContain(
      '"resolved": "http',
    );
  });
});

function withoutComments(text: string): string {
  return text.replaceAll(/\/\*[\s\S]*?\*\//g, "").replaceAll(/(^|\s)\/\/.*$/gm, "");
}
