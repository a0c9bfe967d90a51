import type { OrderState } from "../../server/orders/order.ts";

/** What the form of an order is for, and what it has to say because of that. */
export type OrderFormKind =
  | {
      readonly is: "new";
      /** The numbers a blank reference would become: a shop's and a market's. */
      readonly next: { readonly shop: string; readonly market: string };
      /** The order it was filled in from, and what that had which is no longer made; null for an empty form. */
      readonly copied: { readonly reference: string; readonly leftOut: readonly string[] } | null;
    }
  | {
      readonly is: "change";
      readonly orderId: number;
      readonly reference: string;
      /** The fingerprint of the content the form was made from. */
      readonly seen: string;
      readonly state: OrderState;
      /** How it stands now, when somebody else changed it while this form was being filled in. */
      readonly newer: StandingContent | null;
    };

/** What an order holds, in words for showing beside a form that clashed with it. */
export interface StandingContent {
  readonly reference: string;
  readonly customer: string;
  readonly shipBy: string;
  readonly note: string;
  readonly lines: readonly { readonly product: string; readonly units: number; readonly packed: number }[];
}

/** What the form's lists offer. */
export interface OrderChoices {
  readonly customers: readonly {
    readonly id: number;
    readonly name: string;
    readonly kind: "shop" | "market";
  }[];
  readonly products: readonly ProductChoice[];
}

export interface ProductChoice {
  readonly id: number;
  readonly name: string;
}

/** Whether prices, discounts and shipping are typed: a confirmed order keeps those it was confirmed at. */
export function typesMoney(kind: OrderFormKind): boolean {
  return kind.is === "new" || kind.state === "draft";
}
