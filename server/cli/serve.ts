import { isDriversFarewell } from "../../db/lostConnection.ts";
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
  process.on("uncaughtException", surviveFarewell);
  const server = await startServer(config, { say: console.error, lost: (reason) => end.fail(reason) });
  ready(server);
  cautionIfOpen(config);
  const exitCode = await end.reached;
  await server.stop();
  return exitCode;
}

/** Every other error that nobody caught ends the server, as it would without this. */
function surviveFarewell(error: Error): void {
  if (isDriversFarewell(error)) {
    console.error("A connection to the database was lost in the middle of a transaction, which was undone.");
    return;
  }
  console.error(error);
  process.exit(1);
}

function cautionIfOpen(config: ServerConfig): void {
  const isLocal = config.host === "localhost" || config.host === "::1" || config.host.startsWith("127.");
  if (isLocal || config.secureCookies) return;
  console.error(
    "Caution: other machines can reach it, and without TLS in front passwords cross the network readably. Set SECURE_COOKIES=yes and TRUST_PROXY=yes once a proxy with TLS is there.",
  );
}
