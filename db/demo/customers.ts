import type { ShapeCode } from "./products.ts";

/*
 * Invented shops in invented places. Addresses end in the reserved name .example (RFC 2606), so that no mail can ever
 * reach anybody.
 */

interface SampleCustomer {
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
  /** How much a late day here weighs against a late day elsewhere. */
  readonly priorityWeight: number;
  readonly contactName: string;
  readonly email: string;
  /** What the contact sees to; blank: everything. */
  readonly role: string;
  readonly phone: string;
  readonly address: string;
  readonly notes: string;
  readonly takesBy: "parcel" | "local-round" | "collected" | "market-crate";
  /** Working days a parcel is under way. */
  readonly transitDays: number;
  /** Days from delivery to payment. */
  readonly netDays: number;
  /** In basis points. */
  readonly orderDiscountBasisPoints: number;
  /** So much off, in basis points, within so many days; 0 and 0: nothing. */
  readonly earlyDiscountBasisPoints: number;
  readonly earlyDiscountDays: number;
  /** In cents. */
  readonly shippingMinor: number;
  readonly leastOrderMinor: number | null;
  /** Pieces in a case where it differs from everybody's. */
  readonly cases: Readonly<Partial<Record<ShapeCode, number>>>;
}

/** Half the shops get a parcel that takes two working days; terms are common practice, no source. */
const shop = {
  kind: "shop",
  takesPartDeliveries: false,
  priorityWeight: 1,
  role: "",
  phone: "",
  notes: "",
  takesBy: "parcel",
  transitDays: 2,
  netDays: 30,
  orderDiscountBasisPoints: 0,
  earlyDiscountBasisPoints: 0,
  earlyDiscountDays: 0,
  shippingMinor: 790,
  leastOrderMinor: 3000,
  cases: {},
} as const;
/** Nether Puddle is where the workshop is: nothing is sent there. */
const nearby = { ...shop, takesBy: "local-round", transitDays: 0, shippingMinor: 0 } as const;
/** The crate is filled piece by piece. */
const market = {
  ...nearby,
  kind: "market",
  contactName: "",
  email: "",
  takesBy: "market-crate",
  netDays: 0,
  leastOrderMinor: null,
  cases: { "ball-60": 1, "heart-70": 1, "puck-40": 1 },
} as const;

/** Twelve shops and two markets. */
export const sampleCustomers: readonly SampleCustomer[] = [
  {
    ...nearby,
    name: "The Lamplit Otter",
    contactName: "Ottoline Marsh",
    email: "ottoline@lamplit-otter.example",
    address: "1 Wobbly Quay, Nether Puddle",
    priorityWeight: 2,
    notes: "Our oldest shop. Wants everything in one carton.",
    phone: "555 0104",
    role: "orders",
    orderDiscountBasisPoints: 250,
  },
  {
    ...shop,
    name: "Pumpernickel & Seven Daughters",
    contactName: "Dorothea Pumpernickel the Fourth",
    email: "orders@seven-daughters.example",
    address: "7 Sevenfold Lane, Upper Drizzle",
    earlyDiscountBasisPoints: 200,
    earlyDiscountDays: 10,
    // One of everything for each daughter.
    cases: { "ball-60": 7, "heart-70": 7, "puck-40": 7 },
  },
  {
    ...shop,
    name: "The Upside-Down Lighthouse",
    contactName: "Keeper Bartholomew Glim",
    email: "glim@upside-down.example",
    address: "Last House Before the Sea, Saint Osk",
    takesPartDeliveries: true,
  },
  {
    ...shop,
    name: "Three Left Boots",
    contactName: "Hob Nettlewick",
    email: "hob@three-left-boots.example",
    address: "33 Lopsided Row, Marrow-under-Mist",
    takesPartDeliveries: true,
  },
  {
    ...shop,
    name: "Madam Fogbottom's Parlour",
    contactName: "Madam Fogbottom",
    email: "parlour@fogbottom.example",
    address: "Behind the Curtain, Dim Street, Upper Drizzle",
    priorityWeight: 1.5,
    notes: "Rings at noon. Never deliver before ten.",
  },
  {
    ...nearby,
    name: "The Teaspoon Museum Shop",
    contactName: "Curator Ignatia Stirling-Sugar",
    email: "shop@teaspoon-museum.example",
    address: "2 Saucer Place, Nether Puddle",
    cases: { "ball-60": 4 },
  },
  {
    ...shop,
    name: "Quill & Custard",
    contactName: "Percival Custard",
    email: "percy@quill-custard.example",
    address: "19 Inkwell Steps, Saint Osk",
    netDays: 14,
  },
  {
    ...shop,
    name: "The Ninth Hen",
    contactName: "Philippa Roost",
    email: "philippa@ninth-hen.example",
    address: "Coop Nine, Feather Yard, Marrow-under-Mist",
    cases: { "puck-40": 10 },
  },
  {
    ...shop,
    name: "Grandfather Moth",
    contactName: "Silas Lanternjaw",
    email: "silas@grandfather-moth.example",
    address: "The Dark End, Wardrobe Alley, Upper Drizzle",
  },
  {
    ...shop,
    name: "The Sleepy Barnacle",
    contactName: "Captain Euphemia Bilge",
    email: "captain@sleepy-barnacle.example",
    address: "Hull Number Two, Low Tide Lane, Saint Osk",
    takesPartDeliveries: true,
    priorityWeight: 0.5,
  },
  {
    ...nearby,
    name: "Thimble for a Giant",
    contactName: "Little Agnes Colossus",
    email: "agnes@giants-thimble.example",
    address: "100 Enormous Close, Nether Puddle",
    takesBy: "collected",
  },
  {
    ...shop,
    name: "The Bathtub Observatory",
    contactName: "Professor Lucius Plug",
    email: "plug@bathtub-observatory.example",
    address: "Dome Road, Marrow-under-Mist",
    priorityWeight: 1.5,
    phone: "555 0117",
    leastOrderMinor: null,
  },
  {
    ...market,
    name: "Saturday market on Walrus Green",
    address: "Under the clock, Walrus Green, Nether Puddle",
  },
  {
    ...market,
    name: "The Fair of Lost Umbrellas",
    address: "The bandstand, Upper Drizzle",
    priorityWeight: 1.5,
    notes: "Once a season; a stall of two tables.",
  },
];
