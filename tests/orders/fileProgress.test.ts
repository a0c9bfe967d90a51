import { beforeEach, describe, expect, it } from "vitest";
import { checkOrderFile } from "../../server/orders/checkOrderFile.ts";
import { type FileProgress, FilesInWork } from "../../server/orders/filesInWork.ts";
import type { KnownForFile } from "../../server/orders/knownForFile.ts";
import { readOrderTable } from "../../server/orders/orderTable.ts";
import { progressWords } from "../../views/orders/FileProgress.tsx";

const LINES = 5000;
let known: KnownForFile;

beforeEach(() => {
  known = {
    ...{ today: "2027-03-01", lastDate: "2029-03-01", currency: "EUR", worksOn: () => true },
    ...{ meanings: new Map(), orders: new Map() },
    customers: [
      {
        ...{ id: 1, name: "The Lamplit Otter", kind: "shop", takesPartDeliveries: false, priorityWeight: 1 },
        ...{ transitDays: 1, orderDiscountBasisPoints: 0, shippingMinor: 0, retired: false },
      },
    ],
    products: [{ id: 1, code: "cedar-amber/ball-60", name: "Cedar ball", retired: false }],
  };
});

const longFile = () => {
  const rows = Array.from(
    { length: LINES },
    (_, line) => `B-${line},The Lamplit Otter,2027-03-05,Cedar ball,12`,
  );
  return readOrderTable(Buffer.from(["order,customer,ship_by,product,units", ...rows].join("\r\n")));
};

describe("a long file", () => {
  it("is checked with the turns of others between, at least one for every hundred lines", async () => {
    let turns = 0;
    let isOver = false;
    const others = () => {
      turns += 1;
      if (!isOver) setImmediate(others);
    };
    setImmediate(others);
    const { fresh } = await checkOrderFile(longFile(), known, "iso");
    isOver = true;
    expect(fresh).toHaveLength(LINES);
    expect(turns).toBeGreaterThanOrEqual(LINES / 100);
  });

  it("tells how far it is, from none to all of its lines, and never less than before", async () => {
    const told: FileProgress[] = [];
    await checkOrderFile(longFile(), known, "iso", async (progress) => {
      told.push(progress);
    });
    const done = told.map((progress) => progress.done);
    expect(told.every(({ doing, of }) => doing === "checking" && of === LINES)).toBe(true);
    expect([done[0], done]).toEqual([0, done.toSorted((one, other) => one - other)]);
    expect(done.at(-1)).toBeGreaterThan(LINES * 0.97);
    expect(new Set(done).size).toBeGreaterThan(90);
  });
});

describe("whoever asks how far a file is", () => {
  it("is told by the number of its form while it is worked on, and nothing before, after, or by another", async () => {
    const files = new FilesInWork();
    const steps: (FileProgress | null)[] = [files.progressOf("one")];
    await files.follow("one", async (tell) => {
      await tell({ doing: "checking", done: 1250, of: LINES });
      steps.push(files.progressOf("one"), files.progressOf("another"));
    });
    steps.push(files.progressOf("one"));
    expect(steps).toEqual([null, { doing: "checking", done: 1250, of: LINES }, null, null]);
  });

  it("is told nothing of a file that failed", async () => {
    const files = new FilesInWork();
    const failing = files.follow("one", async (tell) => {
      await tell({ doing: "taking", done: 10, of: 20 });
      throw new Error("no database");
    });
    await expect(failing).rejects.toThrow("no database");
    expect(files.progressOf("one")).toBeNull();
  });

  it("reads it in words", () => {
    expect(progressWords({ doing: "checking", done: 1250, of: 5000 })).toBe(
      "Checking: 1\u202f250 of 5\u202f000 lines.",
    );
  });
});
