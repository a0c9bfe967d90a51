import { checkOrderFile } from "../../server/orders/checkOrderFile.ts";
import type { KnownForFile } from "../../server/orders/knownForFile.ts";
import { readOrderTable } from "../../server/orders/orderTable.ts";
import { processorSeconds } from "./processorSeconds.ts";

/** Processor seconds of a whole file, from its bytes to its orders. */
export interface OrderFileRun {
  readonly seed: number;
  readonly seconds: number;
}

const CUSTOMERS = 200;
const PRODUCTS = 60;

/** Reads and checks a file of so many lines, each order having as many of them as asked. */
export async function readOrderFile(
  lines: number,
  linesAnOrder: number,
  seed: number,
): Promise<OrderFileRun> {
  const bytes = Buffer.from(fileText(lines, linesAnOrder, seed));
  const begun = processorSeconds();
  const checked = await checkOrderFile(readOrderTable(bytes), known(), "day-first");
  const seconds = processorSeconds() - begun;
  if (checked.mistakes.length > 0 || checked.fresh.length !== Math.ceil(lines / linesAnOrder))
    throw new Error(`a file without mistakes was read as ${checked.fresh.length} orders`);
  return { seed, seconds };
}

function fileText(lines: number, linesAnOrder: number, seed: number): string {
  const rows = Array.from({ length: lines }, (_, line) => {
    const order = Math.floor(line / linesAnOrder);
    const product = (line + seed) % PRODUCTS;
    return `B-${order};"Shop ""${order % CUSTOMERS}""";5.3.2027;8.3.2027;Scent ${product};${1 + (line % 90)};2,${10 + (line % 90)};`;
  });
  return ["order;customer;ship_by;needed_by;product;units;price;note", ...rows].join("\r\n");
}

function known(): KnownForFile {
  return {
    today: "2027-03-01",
    lastDate: "2029-03-01",
    currency: "EUR",
    worksOn: () => true,
    meanings: new Map(),
    orders: new Map(),
    customers: Array.from({ length: CUSTOMERS }, (_, place) => ({
      id: place + 1,
      name: `Shop "${place}"`,
      kind: "shop",
      takesPartDeliveries: false,
      priorityWeight: 1,
      transitDays: 1,
      orderDiscountBasisPoints: 0,
      shippingMinor: 0,
      retired: false,
    })),
    products: Array.from({ length: PRODUCTS }, (_, place) => ({
      id: place + 1,
      code: `scent-${place}/ball-60`,
      name: `Scent ${place}`,
      retired: false,
    })),
  };
}
