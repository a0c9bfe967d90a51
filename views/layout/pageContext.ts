import { createContext } from "preact";
import { useContext } from "preact/hooks";

/** The places of the navigation, in its order, with their addresses. */
export const places = [
  { name: "Week", href: "/week", for: "everyone" },
  { name: "Orders", href: "/orders", for: "owner" },
  { name: "Roll-up", href: "/roll-up", for: "owner" },
  { name: "Plan", href: "/plan", for: "owner" },
  { name: "Bench", href: "/bench", for: "everyone" },
  { name: "Shelf", href: "/shelf", for: "everyone" },
  { name: "Packing", href: "/packing", for: "everyone" },
  { name: "Delivery", href: "/delivery", for: "everyone" },
  { name: "Supplies", href: "/supplies", for: "everyone" },
  { name: "Setup", href: "/setup", for: "owner" },
] as const;

export type Place = (typeof places)[number]["name"];

/** What pages watch, by the name on which the triggers ring (migrations). */
export type NewsChannel = "bench" | "packing";

/** What the frame of every page and every form needs to know of the request. */
export interface PageContext {
  readonly place: Place | null;
  /** What the page is told of while it stands open; null: nothing. */
  readonly news: NewsChannel | null;
  /** Whether the page is for somebody who is no part of the house: it then leads to none of its places. */
  readonly bare?: boolean;
  readonly path: string;
  readonly person: { readonly name: string; readonly role: "owner" | "helper" } | null;
  readonly workshop: { readonly name: string; readonly timeZone: string } | null;
  readonly csrfToken: string;
  readonly assetVersion: string;
}

export const PageContext = createContext<PageContext>({
  place: null,
  news: null,
  path: "/",
  person: null,
  workshop: null,
  csrfToken: "",
  assetVersion: "",
});

export function usePageContext(): PageContext {
  return useContext(PageContext);
}
