import { describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { lotCodeAlphabet, newLotCode } from "../../server/shelf/lotCode.ts";
import { useDatabase } from "../db/testDatabase.ts";

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

  it("is one that no lot has, however few are left", async () => {
    // Every code but those that begin with one letter is taken: 24 of 25 draws must be drawn again.
    await database.sql`insert into blends (code, name, colour, pattern, shade) values ('oat', 'Oat', '#eeeeee', 'dots', 0)`;
    await database.sql`insert into shapes (code, name, mold_sets, dries_in, mold_minutes, rest_minutes, units_per_tray,
      piece_milligrams, form_seconds, turn_seconds, unmold_seconds, pack_seconds)
      values ('ball', 'Ball', 1, 'half', 1, 1, 1, 1, 0, 0, 0, 0)`;
    await database.sql`insert into products (code, name, blend_id, shape_id) values ('oat/ball', 'Oat ball', 1, 1)`;
    const letters = lotCodeAlphabet.split("");
    await database.sql`insert into lots (code, product_id, state, trays, created_at, formed_at, unmold_due_at, ready_due_at)
      select a || b || c || d, 1, 'drying', 0, now(), now(), now(), now()
      from unnest(${letters.slice(1)}::text[]) a, unnest(${letters}::text[]) b, unnest(${letters}::text[]) c,
        unnest(${letters}::text[]) d`;
    const codes = await inTransaction(database.db, async (transaction) => [
      await newLotCode(transaction),
      await newLotCode(transaction),
      await newLotCode(transaction),
    ]);
    for (const code of codes) expect(code.charAt(0)).toBe(letters[0]);
  });
});
