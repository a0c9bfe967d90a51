import { describe, expect, it } from "vitest";
import { calendarExceptions } from "../../db/schema/workshop.ts";
import { readShipBy, shipByFor } from "../../server/orders/shipByFor.ts";
import { insertCustomer, insertWorkingWeek, insertWorkshop } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";

/* 1 March 2027 is a Monday. */
const mondayToFriday = (date: string) => new Date(`${date}T12:00:00Z`).getUTCDay() % 6 !== 0;

describe("what is needed by a date", () => {
  it("leaves as many working days before as it is under way", () => {
    expect(shipByFor("2027-03-10", 2, mondayToFriday)).toBe("2027-03-08");
    expect(shipByFor("2027-03-10", 0, mondayToFriday)).toBe("2027-03-10");
  });

  it("is not under way on days that are not worked", () => {
    expect(shipByFor("2027-03-08", 2, mondayToFriday)).toBe("2027-03-04");
    expect(shipByFor("2027-03-07", 2, mondayToFriday)).toBe("2027-03-03");
    expect(shipByFor("2027-03-07", 0, mondayToFriday)).toBe("2027-03-05");
  });

  it("has no ship-by date where nobody works", () => {
    expect(shipByFor("2027-03-10", 0, () => false)).toBeNull();
  });
});

describe("over the workshop's calendar", () => {
  const database = useDatabase();

  it("days off do not count, extra sessions do", async () => {
    const { db } = database;
    await insertWorkshop(db);
    await insertWorkingWeek(db);
    const parcel = await insertCustomer(db, { takesBy: "parcel", transitDays: 2 });
    expect(await readShipBy(db, parcel, "2027-03-10")).toBe("2027-03-08");
    await db.insert(calendarExceptions).values([
      { onDate: "2027-03-09", kind: "day-off" },
      {
        onDate: "2027-03-07",
        kind: "extra",
        startsMinute: 540,
        endsMinute: 780,
        handMinutes: 60,
        mixing: false,
      },
    ]);
    // Wednesday the 10th, Monday the 8th, Sunday the 7th.
    expect(await readShipBy(db, parcel, "2027-03-10")).toBe("2027-03-07");
    expect(await readShipBy(db, 999, "2027-03-10")).toBeNull();
  });
});
