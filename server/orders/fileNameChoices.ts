import { and, asc, eq, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { fileMeanings } from "../../db/schema/fileMeanings.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import type { AskedName, NameChoice, NameChoices } from "../../views/orders/FileNamesPage.tsx";
import type { RememberedName } from "../../views/orders/RememberedNamesPage.tsx";
import { productName } from "../products/productName.ts";
import type { UnknownName } from "./fileNames.ts";
import type { KnownForFile } from "./knownForFile.ts";
import { nearestNames } from "./nearestNames.ts";

/** An unknown name with the known ones most like it. */
export function askedName(name: UnknownName, known: KnownForFile): AskedName {
  const things = (name.what === "customer" ? known.customers : known.products).filter((one) => !one.retired);
  const nearest = nearestNames(
    name.written,
    things.map((thing) => thing.name),
  );
  return {
    ...name,
    nearest: nearest.flatMap((near) => {
      const thing = things.find((one) => one.name === near);
      return thing ? [sameAs(thing)] : [];
    }),
  };
}

/** Everything a name can mean: who is there, what is made, and what could be made of a blend and a shape. */
export async function nameChoices(db: Database, known: KnownForFile): Promise<NameChoices> {
  return {
    customers: known.customers.filter((customer) => !customer.retired).map(sameAs),
    products: known.products.filter((product) => !product.retired).map(sameAs),
    makeable: await listMakeable(db),
  };
}

function sameAs({ id, name }: { readonly id: number; readonly name: string }): NameChoice {
  return { value: `same:${id}`, label: name };
}

async function listMakeable(db: Database): Promise<readonly NameChoice[]> {
  const pairs = await db
    .select({ blendId: blends.id, shapeId: shapes.id, blend: blends.name, shape: shapes.name })
    .from(blends)
    .innerJoin(shapes, isNull(shapes.retiredAt))
    .leftJoin(
      products,
      and(eq(products.blendId, blends.id), eq(products.shapeId, shapes.id), isNull(products.retiredAt)),
    )
    .where(and(isNull(blends.retiredAt), isNull(products.id)))
    .orderBy(asc(blends.name), asc(shapes.name), asc(blends.id));
  return pairs.map(({ blendId, shapeId, blend, shape }) => ({
    value: `new:${blendId}:${shapeId}`,
    label: productName(blend, shape),
  }));
}

/** What is remembered of names in files, in the order of the alphabet. */
export async function listRememberedNames(db: Database): Promise<readonly RememberedName[]> {
  return db
    .select({
      id: fileMeanings.id,
      what: fileMeanings.what,
      written: fileMeanings.writtenAs,
      means: sql<string | null>`coalesce(${customers.name}, ${products.name})`,
      decidedBy: people.name,
    })
    .from(fileMeanings)
    .leftJoin(customers, eq(customers.id, fileMeanings.customerId))
    .leftJoin(products, eq(products.id, fileMeanings.productId))
    .innerJoin(people, eq(people.id, fileMeanings.decidedBy))
    .orderBy(asc(fileMeanings.what), asc(sql`lower(${fileMeanings.writtenAs})`), asc(fileMeanings.id));
}
