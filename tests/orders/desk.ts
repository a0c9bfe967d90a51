import { beforeAll, beforeEach } from "vitest";
import { type TestApplication, useApplication } from "../build/application.ts";
import { insertBlend, insertCustomer, insertProduct, insertShape } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, openWorkroom } from "../packing/workroom.ts";

/** What stands at the order desk of every test: two shops, a market, three products, an owner and a helper. */
interface Desk {
  readonly owner: Visitor;
  readonly helper: Visitor;
  readonly otter: number;
  readonly heron: number;
  readonly quayside: number;
  readonly cedar: number;
  readonly oat: number;
  readonly tea: number;
}

/** The application with a desk that every test finds freshly laid: no orders, nothing on the shelf. */
export function useDesk(): { readonly application: TestApplication; readonly desk: () => Desk } {
  const application = useApplication();
  let people: Pick<Desk, "owner" | "helper"> | undefined;
  let desk: Desk | undefined;
  beforeAll(async () => {
    const { owner, fig } = await openWorkroom(application);
    people = { owner, helper: fig };
  });
  beforeEach(async () => {
    await emptyWorkroom(application.database);
    if (people) desk = { ...people, ...(await layOut(application)) };
  });
  return {
    application,
    desk: () => {
      if (!desk) throw new Error("The desk is laid only from beforeEach on.");
      return desk;
    },
  };
}

async function layOut({ database: { db } }: TestApplication): Promise<Omit<Desk, "owner" | "helper">> {
  const shapeId = await insertShape(db);
  const product = async (blend: string, name: string) =>
    insertProduct(db, {
      code: `${blend}/ball-60`,
      name,
      shapeId,
      blendId: await insertBlend(db, { code: blend }),
    });
  return {
    otter: await insertCustomer(db, { name: "The Lamplit Otter" }),
    heron: await insertCustomer(db, { name: "Heron & Thimble", takesPartDeliveries: true }),
    quayside: await insertCustomer(db, { name: "Quayside Saturday", kind: "market" }),
    cedar: await product("cedar-amber", "Cedar ball"),
    oat: await product("oat-lavender", "Oat ball"),
    tea: await product("black-tea", "Black tea ball"),
  };
}

/** The fields of an order's form, valid as they are: say only what matters to the test. */
export function orderFields(
  given: Partial<
    Record<"reference" | "customer" | "terms" | "ship_by" | "note" | "save" | "seen", string>
  > & {
    readonly lines: readonly (readonly [product: number | "", units: string])[];
  },
): Record<string, string | readonly string[]> {
  const { lines, ...head } = given;
  return {
    reference: "",
    terms: "",
    ship_by: "2027-03-05",
    note: "",
    save: "confirm",
    ...head,
    product: lines.map(([product]) => String(product)),
    units: lines.map(([, units]) => units),
  };
}

/** Every order as one line of text, by reference, with its lines: "W-101 confirmed complete 2027-03-05: 36 Cedar ball". */
export async function ordersNow({ database }: TestApplication): Promise<string[]> {
  const rows = await database.sql<{ words: string }[]>`
    select orders.reference || ' ' || orders.state || ' ' || orders.terms || ' ' || orders.ship_by || ': ' ||
      coalesce(string_agg(order_lines.units || ' ' || products.name, ', ' order by order_lines.id), 'nothing') as words
    from orders left join order_lines on order_lines.order_id = orders.id
      left join products on products.id = order_lines.product_id
    group by orders.id order by orders.reference`;
  return rows.map((row) => row.words);
}

/** The seal in the form of a page that shows an effect; "" where the page is another. */
export function effectSeal(body: string): string {
  return /name="effect_shown" value="([\w-]{43})"/.exec(body)?.[1] ?? "";
}
