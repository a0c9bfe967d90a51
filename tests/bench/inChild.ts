import { fork } from "node:child_process";
import path from "node:path";
import type { Done } from "./child.ts";
import type { Tasks } from "./tasks.ts";

type Input<Name extends keyof Tasks> = Parameters<Tasks[Name]>[0];
type Value<Name extends keyof Tasks> = Awaited<ReturnType<Tasks[Name]>>;

/** Does a task in a process of its own. Fails where that process fails, with what it wrote. */
export function inChild<Name extends keyof Tasks>(
  name: Name,
  input: Input<Name>,
): Promise<Done<Value<Name>>> {
  return new Promise((resolve, reject) => {
    const child = fork(path.join(import.meta.dirname, "child.ts"), {
      execArgv: ["--import", "tsx"],
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    });
    let complaint = "";
    child.stderr?.setEncoding("utf8").on("data", (text: string) => {
      complaint += text;
    });
    let done: Done<Value<Name>> | undefined;
    child.on("message", (message) => {
      done = message as Done<Value<Name>>;
    });
    child.on("error", reject);
    child.on("close", (code) => {
      if (done === undefined) reject(new Error(`${name} ended with ${code}: ${complaint}`));
      else resolve(done);
    });
    child.send({ name, input });
  });
}
