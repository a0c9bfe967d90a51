import { setTimeout as pause } from "node:timers/promises";
import postgres, { type Sql } from "postgres";

/** The right to tend a cluster: to stop and start its Postgres. One server has it at a time. */
export interface Ownership {
  release(): Promise<void>;
}

/** Any number will do as long as every server takes the same one. */
const OWNER_LOCK = 4_401_270;

/**
 * Takes the right to tend the cluster whose Postgres answers at `url`, or says "taken". It is a lock of a database session:
 * the system ends the session with the process that holds it, so nothing is ever left behind and no process number can
 * be mistaken. Throws when Postgres does not answer. Should the session break while Postgres lives on, the lock is taken
 * again; `lost` is called if another server has it by then.
 */
export async function takeOwnership(url: string, lost: () => void): Promise<Ownership | "taken"> {
  let released = false;
  let held = false;
  const client = postgres(url, {
    max: 1,
    max_lifetime: null,
    connect_timeout: 5,
    onnotice: () => {},
    connection: { application_name: "halfmold, owner of the data" },
    onclose: () => {
      if (held && !released) void retake();
    },
  });
  const release = async () => {
    released = true;
    await client.end({ timeout: 1 });
  };
  const retake = async () => {
    held = false;
    while (!released && !held) {
      await pause(200);
      const answer = await tryLock(client).catch(() => "no answer" as const);
      if (answer === "taken" && !released) return lost();
      held = answer === "held";
    }
  };

  try {
    if ((await tryLock(client)) === "held") {
      held = true;
      return { release };
    }
  } catch (error) {
    await release();
    throw error;
  }
  await release();
  return "taken";
}

async function tryLock(client: Sql): Promise<"held" | "taken"> {
  const [row] = await client<{ held: boolean }[]>`select pg_try_advisory_lock(${OWNER_LOCK}) as held`;
  return row?.held === true ? "held" : "taken";
}
