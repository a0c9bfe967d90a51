import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { LinkPage } from "../../views/stockist/LinkPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { actorOf } from "../http/visitor.ts";
import { findShopLink, makeLink, withdrawLink } from "./changeLink.ts";
import { hashOfSecret, newLinkSecret } from "./linkSecret.ts";

/** Opening, renewing and closing a shop's order page. */
export async function stockistLinkRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/setup/customers/:id/order-page", (request, reply) =>
    showLink(request, reply, { address: null, notice: null }, 200),
  );

  /** Answered by the page itself: the address is kept nowhere, so no other page could show it. */
  app.post("/setup/customers/:id/order-page", async (request, reply) => {
    const customerId = idInPath(request, "customer");
    const secret = newLinkSecret();
    const at = clock.now();
    let madeNow = false;
    const made = await actOnce(
      db,
      request,
      at,
      (transaction) => {
        madeNow = true;
        return makeLink(transaction, actorOf(request, at), { customerId, tokenHash: hashOfSecret(secret) });
      },
      () => linkPage(customerId),
    );
    if (!made.ok) return refused(request, reply, made.refusal);
    const address = `${request.protocol}://${request.host}/stockist/${secret}`;
    const shown = madeNow
      ? { address, notice: null }
      : { address: null, notice: "The address was made already and was shown once. Renew it if it is lost." };
    return showLink(request, reply, shown, 200);
  });

  app.post("/setup/customers/:id/order-page/withdrawal", async (request, reply) => {
    const customerId = idInPath(request, "customer");
    const at = clock.now();
    const withdrawn = await actOnce(
      db,
      request,
      at,
      (transaction) => withdrawLink(transaction, actorOf(request, at), { customerId }),
      () => linkPage(customerId),
    );
    return withdrawn.ok ? reply.redirect(withdrawn.value, 303) : refused(request, reply, withdrawn.refusal);
  });

  function refused(request: FastifyRequest, reply: FastifyReply, why: "not-found" | "not-a-shop") {
    if (why === "not-found") throw notFound("customer");
    return showLink(request, reply, { address: null, notice: "It was not made." }, 409);
  }

  async function showLink(
    request: FastifyRequest,
    reply: FastifyReply,
    shown: { readonly address: string | null; readonly notice: string | null },
    status: number,
  ) {
    const customer = await findShopLink(db, idInPath(request, "customer"));
    if (!customer) throw notFound("customer");
    const mayHaveOne = customer.kind === "shop" && customer.retiredAt === null;
    const props = { ...shown, customer: { ...customer, mayHaveOne } };
    return render(request, reply, LinkPage, props, {
      title: `Order page of ${customer.name}`,
      place: "Setup",
      status,
    });
  }
}

function linkPage(customerId: number): string {
  return `/setup/customers/${customerId}/order-page`;
}
