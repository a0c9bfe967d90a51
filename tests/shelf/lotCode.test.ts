import { sql } from "drizzle-orm";
import { describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { lotCodeAlphabet, newLotCode } from "../../server/shelf/lotCode.ts";
import { insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { untilWaiting } from "../db/untilWaiting.ts";

const database = useDatabase();

describe("a lot's code", () => {
  it("is written without characters that are taken for one another", () => {
    for (const lookAlike of "0O1IL5S2Z8B") expect(lotCodeAlphabet).not.toContain(lookAlike);
    expect(new Set(lotCodeAlphabet).size).toBe(lotCodeAlphabet.length);
  });

  it("has four characters and differs from one to the next", async () => {
    const codes = await inTransaction(database.db, async (transaction) => {
      const drawn: string[] = [];
      for (let count = 0; count < 50; count += 1) drawn.push(await newLotCode(transaction));
      return drawn;
    });
    for (const code of codes) expect(code).toMatch(new RegExp(`^[${lotCodeAlphabet}]{4}$`));
    expect(new Set(codes).size).toBeGreaterThan(40);
  });

  it("is drawn again while a lot has it, and not for ever", async () => {
    const productId = await insertProduct(database.db);
    await insertReadyLot(database.db, { productId, units: 1, code: "ACDE" });
    const draws = ["ACDE", "ACDE", "FGHJ"];
    await inTransaction(database.db, async (transaction) => {
      expect(await newLotCode(transaction, () => draws.shift() ?? "")).toBe("FGHJ");
      await expect(newLotCode(transaction, () => "ACDE")).rejects.toThrow("Nearly every lot code is taken");
    });
  });

  it("is never given to two who ask at the same moment", async () => {
    const productId = await insertProduct(database.db, { code: "oat-lavender/puck-70" });
    await insertReadyLot(database.db, { productId, units: 1, code: "VWXY" });
    const draws = ["KMNP", "QRTU"];
    const { later } = await inTransaction(database.db, async (transaction) => {
      const code = await newLotCode(transaction, () => "KMNP");
      // In an object: the transaction must not wait for it.
      const asked = {
        later: inTransaction(database.db, (other) => newLotCode(other, () => draws.shift() ?? "")),
      };
      await untilWaiting(database.sql, 1);
      await transaction.execute(sql`update lots set code = ${code} where code = 'VWXY'`);
      return asked;
    });
    expect(await later).toBe("QRTU");
  });
});
