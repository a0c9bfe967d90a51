import { createServer } from "node:net";
import path from "node:path";
import { readOrMake, replace } from "./ownerFile.ts";

/**
 * The port that Postgres is to listen on: the one kept in the data folder, so that an address noted by a person stays
 * right, or a new one where that has been taken by something else.
 */
export async function keptPort(folder: string): Promise<number> {
  const file = path.join(folder, "database-port");
  const kept = Number(await readOrMake(file, async () => String(await listenOnce(0))));
  try {
    return await listenOnce(kept);
  } catch {
    const other = await listenOnce(0);
    await replace(file, String(other));
    return other;
  }
}

/** Listens on the port (0: any free one) for a moment and returns which it was; throws when it can't be had. */
function listenOnce(port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(address !== null && typeof address === "object" ? address.port : port));
    });
  });
}
