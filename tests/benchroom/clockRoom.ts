import type { Database } from "../../db/connect.ts";
import { plans } from "../../db/schema/plans.ts";
import { furnish } from "./benchRoom.ts";

/**
 * The room of `furnish` with the sessions of its plan: Monday 1 March 2027, 09:00 to 13:00 and 14:00 to 18:00, and Tuesday
 * the same, four hand hours each. `shape` times stay those of the tests' rows: a ball takes 48 s to press, 4 s to turn.
 */
export async function furnishByTheClock(db: Database) {
  const room = await furnish(db);
  const sessions = ["2027-03-01", "2027-03-02"].flatMap((date) =>
    [
      ["09:00", "13:00"],
      ["14:00", "18:00"],
    ].map(([start, end]) => ({ date, start, end, handMinutes: 240 })),
  );
  const sessionInstants = sessions.map(({ date, start, end }) => ({
    startsAt: `${date}T${start}:00.000Z`,
    endsAt: `${date}T${end}:00.000Z`,
  }));
  await db.update(plans).set({ planCase: { sessions }, answer: { orders: [] }, sessionInstants });
  return room;
}
