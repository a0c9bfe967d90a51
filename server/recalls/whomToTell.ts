import { groupBy } from "../basics/groupBy.ts";

/** What a customer has, or had, of what is recalled, with one order. */
export interface Got {
  readonly orderId: number;
  readonly reference: string;
  /** The lot of pieces, or of packaging, by its code. */
  readonly code: string;
  readonly name: string;
  /** Pieces that left and did not come home. */
  readonly units: number;
  /** When the last of them left. */
  readonly leftAt: Date | null;
  /** ISO 8601 date of the stall they were taken to; null: it went to a shop, or nobody said which market. */
  readonly heldOn: string | null;
}

interface Customer {
  readonly customerId: number;
  readonly customer: string;
  readonly kind: "shop" | "market";
  readonly contact: string;
  readonly address: string;
}

export type Parcelled = Customer & Got;

interface Told {
  readonly customerId: number;
  readonly unitsBack: number;
}

/** Somebody to tell of a recall: what they got, and what was said so far, the first first. */
export interface Recipient<Notice extends Told> extends Customer {
  readonly got: readonly Got[];
  readonly notices: readonly Notice[];
  /** Pieces with them, as far as is known: what they got less what they sent back; never below nothing. */
  readonly unitsThere: number;
}

/**
 * Everybody who got something of what is recalled, a customer once, in the order given. A market is told too, by a notice
 * where its buyers will read it: to whom the stall sold nobody wrote down.
 */
export function whomToTell<Notice extends Told>(
  sent: readonly Parcelled[],
  notices: readonly Notice[],
): readonly Recipient<Notice>[] {
  const byCustomer = groupBy(
    sent.filter(({ units }) => units > 0),
    ({ customerId }) => customerId,
  );
  return [...byCustomer.values()].flatMap((got) => {
    const [first] = got;
    if (!first) return [];
    const { customerId, customer, kind, contact, address } = first;
    const told = notices.filter((notice) => notice.customerId === customerId);
    const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);
    const unitsBack = sum(told.map((notice) => notice.unitsBack));
    const unitsThere = Math.max(0, sum(got.map(({ units }) => units)) - unitsBack);
    return [{ customerId, customer, kind, contact, address, got, notices: told, unitsThere }];
  });
}
