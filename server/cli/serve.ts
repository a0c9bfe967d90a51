import type { ServerConfig } from "../config.ts";
import { type RunningServer, startServer } from "../main.ts";
import { EndOfRun } from "./endOfRun.ts";

/**
 * Runs the server until Ctrl-C, SIGTERM or the end of its terminal stops it; a second one stops it at once. Returns
 * the exit code, with everything stopped. `ready` is called once it takes requests.
 */
export async function serveUntilStopped(
  config: ServerConfig,
  ready: (server: RunningServer) => void,
): Promise<number> {
  const end = new EndOfRun();
  const server = await startServer(config, { say: console.error, lost: (reason) => end.fail(reason) });
  ready(server);
  cautionIfOpen(config);
  const exitCode = await end.reached;
  await server.stop();
  return exitCode;
}

function cautionIfOpen(config: ServerConfig): void {
  const isLocal = config.host === "localhost" || config.host === "::1" || config.host.startsWith("127.");
  if (isLocal || config.secureCookies) return;
  console.error(
    "Caution: other machines can reach it, and without TLS in front passwords cross the network readably. Set SECURE_COOKIES=yes once TLS is there.",
  );
}
