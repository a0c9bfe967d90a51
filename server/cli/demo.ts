import { randomBytes } from "node:crypto";
import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { connect } from "../../db/connect.ts";
import { startEmbedded } from "../../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../../db/migrate.ts";
import { inTransaction } from "../../db/transaction.ts";
import { PlainFailure } from "../basics/plainFailure.ts";
import { readConfig } from "../config.ts";
import { makeFirstAccount } from "../people/makeFirstAccount.ts";
import { loadSampleWorkshop } from "../sample/loadSampleWorkshop.ts";
import { ownTimeZone } from "../workshop/timeZones.ts";
import { serveUntilStopped } from "./serve.ts";

/** Runs a server on the sample workshop, in a folder that is thrown away when it is stopped. */
export async function run(words: readonly string[]): Promise<number> {
  if (words.length > 0) throw new PlainFailure(`demo takes no words; "${words[0]}" is one.`, 2);
  const home = await mkdtemp(path.join(tmpdir(), "halfmold-demo-"));
  try {
    return await runIn(home);
  } finally {
    await rm(home, { recursive: true, force: true });
  }
}

async function runIn(home: string): Promise<number> {
  // Where root starts it, the database's own user has to pass through.
  await chmod(home, 0o711);
  const folder = path.join(home, "data");
  const { DATABASE_URL: _, ...settings } = process.env;
  const config = readConfig({ ...settings, HALFMOLD_DATA: folder });
  if (!config.ok) throw new PlainFailure(["The settings are wrong:", ...config.refusal].join("\n  "), 2);
  const account = {
    name: "Wren Oddfellow",
    email: "wren@thursday-walrus.example",
    password: randomBytes(6).toString("hex"),
  };
  console.error("The sample workshop is being set up …");
  await fill(folder, account);
  return serveUntilStopped(config.value, ({ address }) => console.log(welcome(address, account)));
}

function welcome(
  address: string,
  { email, password }: { readonly email: string; readonly password: string },
) {
  return [
    `The sample workshop is ready: open ${address} in a browser. Ctrl-C stops it and throws it away.`,
    `Sign in as ${email} with the password ${password}`,
  ].join("\n");
}

/** Makes the owner's account and the sample workshop in a new database. */
async function fill(
  folder: string,
  account: { readonly name: string; readonly email: string; readonly password: string },
): Promise<void> {
  const database = await startEmbedded({
    folder,
    chosen: true,
    say: console.error,
    lost: (reason) => console.error(reason),
  });
  try {
    await migrateDatabase(database.url);
    const connection = connect(database.url, { connections: 1 });
    const at = new Date();
    await inTransaction(connection.db, async (transaction) => {
      const owner = await makeFirstAccount(transaction, at, account);
      if (!owner.ok) throw new Error("A new database has somebody in it");
      const loaded = await loadSampleWorkshop(
        transaction,
        { personId: owner.value.personId, at },
        ownTimeZone(),
      );
      if (!loaded.ok) throw new PlainFailure(`The sample workshop was refused: ${loaded.refusal}.`);
    });
    await connection.close();
  } finally {
    await database.stop();
  }
}
