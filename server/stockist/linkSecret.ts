import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/** 32 bytes: nobody comes upon one by trying. */
const SECRET_BYTES = 32;

/** The secret part of a link's address, in the alphabet of addresses (RFC 4648, section 5). Kept nowhere. */
export function newLinkSecret(): string {
  return randomBytes(SECRET_BYTES).toString("base64url");
}

/** SHA-256 in hexadecimal: what is kept of a secret. */
export function hashOfSecret(secret: string): string {
  return createHash("sha256").update(secret).digest("hex");
}

/** Whether two hashes are the same, in the same time whether they differ early or late. */
export function sameHash(one: string, other: string): boolean {
  const [left, right] = [Buffer.from(one, "hex"), Buffer.from(other, "hex")];
  return left.length === right.length && timingSafeEqual(left, right);
}
