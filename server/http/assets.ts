import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import fastifyStatic from "@fastify/static";
import type { FastifyInstance } from "fastify";
import { projectRoot } from "../basics/projectRoot.ts";

const stylesFolder = path.join(projectRoot, "views", "styles");
const staticFolder = path.join(projectRoot, "views", "static");
const htmxFolder = path.join(projectRoot, "node_modules", "htmx.org", "dist");
const fontFolders = ["alegreya", "alegreya-sans"].map((face) =>
  path.join(projectRoot, "node_modules", "@fontsource", face, "files"),
);

/** The library's scripts that pages load. */
const htmxScripts = ["htmx.min.js", path.join("ext", "hx-sse.min.js")];

/** Changes whenever a style or script changes, so that a browser never mixes old and new. */
export const assetVersion: string = versionOf([stylesFolder, staticFolder]);

/** Serves styles, fonts and scripts, and nothing else. All of it is the same for everybody. */
export async function registerAssets(app: FastifyInstance): Promise<void> {
  const forever = { maxAge: "365d", immutable: true, index: false, decorateReply: false } as const;
  await app.register(
    async (assets) => {
      assets.addHook("onRoute", (route) => {
        route.config = { ...route.config, access: "asset" };
      });
      assets.setNotFoundHandler((_request, reply) => reply.code(404).type("text/plain").send("Not found"));
      await assets.register(fastifyStatic, { ...forever, root: stylesFolder, prefix: "/styles/" });
      await assets.register(fastifyStatic, { ...forever, root: staticFolder, prefix: "/static/" });
      await assets.register(fastifyStatic, { ...forever, root: htmxFolder, prefix: "/htmx/" });
      await assets.register(fastifyStatic, { ...forever, root: fontFolders, prefix: "/fonts/" });
    },
    { prefix: `/assets/${assetVersion}` },
  );
}

function versionOf(folders: readonly string[]): string {
  const hash = createHash("sha256");
  for (const folder of folders) {
    for (const name of readdirSync(folder).sort())
      hash.update(name).update(readFileSync(path.join(folder, name)));
  }
  for (const name of htmxScripts) hash.update(readFileSync(path.join(htmxFolder, name)));
  return hash.digest("hex").slice(0, 12);
}
