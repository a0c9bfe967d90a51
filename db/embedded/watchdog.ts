import { spawn } from "node:child_process";
import { bareEnvironment } from "./binaries.ts";
import type { Place } from "./place.ts";

/** A small process that outlives a killed server for long enough to stop its Postgres. */
export interface Watchdog {
  /** Names the Postgres to stop from now on. */
  watch(pid: number): void;
  /** Sends the watchdog home: the server has stopped Postgres itself. */
  dismiss(): void;
}

/**
 * Reads pids from a pipe whose other end only the server holds. When the server is gone, however it went, the pipe ends
 * and the watchdog stops the last pid it was told, if Postgres' own pid file still names it. Signals meant for the whole
 * group (Ctrl-C, the end of a service) must not take it before the server.
 */
const SCRIPT = `
trap '' INT TERM HUP
pid=
while read -r word; do
  [ "$word" = dismissed ] && exit 0
  pid=$word
done
runs() {
  { read -r first < "$0/postmaster.pid"; } 2>/dev/null && [ "$first" = "$pid" ] && kill -0 "$pid" 2>/dev/null
}
runs && kill -INT "$pid"
seconds=0
while runs && [ "$seconds" -lt 30 ]; do
  sleep 1
  seconds=$((seconds + 1))
done
runs && kill -QUIT "$pid"
`;

export function startWatchdog(place: Place): Watchdog {
  const child = spawn("/bin/sh", ["-c", SCRIPT, place.cluster], {
    ...place.account,
    env: bareEnvironment,
    cwd: "/",
    detached: true,
    stdio: ["pipe", "ignore", "ignore"],
  });
  // A watchdog that was itself killed must not take the server with it; the next start finds what it would have stopped.
  child.on("error", () => {});
  child.stdin.on("error", () => {});
  child.unref();
  return {
    watch: (pid) => {
      child.stdin.write(`${pid}\n`);
    },
    dismiss: () => {
      child.stdin.end("dismissed\n");
    },
  };
}
