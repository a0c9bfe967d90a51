import type { FastifyInstance } from "fastify";
import { RollUpPage } from "../../views/rollup/RollUpPage.tsx";
import type { FeatureParts } from "../app.ts";
import { listStopped } from "../holds/queries.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { bowlMilligrams, productFacts, supplyByProduct, unpackedDemand } from "./queries.ts";
import { rollUp } from "./rollUp.ts";

export async function rollUpRoutes(app: FastifyInstance, { db }: FeatureParts): Promise<void> {
  app.get("/roll-up", async (request, reply) => {
    const demand = await unpackedDemand(db);
    const supply = await supplyByProduct(db);
    const named = new Set([...demand, ...supply].map(({ productId }) => productId));
    const products = await productFacts(db, [...named]);
    const sums = rollUp(products, demand, supply, await bowlMilligrams(db));
    const props = {
      ...{ rollUp: sums, products },
      stopped: await listStopped(db),
      timeZone: workshopOf(request).timeZone,
    };
    return render(request, reply, RollUpPage, props, { title: "Roll-up", place: "Roll-up" });
  });
}
