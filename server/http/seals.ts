import { createHmac, timingSafeEqual } from "node:crypto";

/**
 * Seals on what a form carries back to the server that sent it out, so that it is believed only where this server, or
 * another with the same secret, said it. HMAC (RFC 2104) with SHA-256 over what it is and its facts as JSON.
 */
export class Seals {
  readonly #secret: string;

  constructor(secret: string) {
    this.#secret = secret;
  }

  /** The same for the same facts: 43 characters of base64url. */
  sealOf(what: string, facts: unknown): string {
    return createHmac("sha256", this.#secret)
      .update(JSON.stringify(["sealed", what, facts]))
      .digest("base64url");
  }

  fits(seal: unknown, what: string, facts: unknown): boolean {
    if (typeof seal !== "string") return false;
    const [sent, right] = [Buffer.from(seal), Buffer.from(this.sealOf(what, facts))];
    return sent.length === right.length && timingSafeEqual(sent, right);
  }
}
