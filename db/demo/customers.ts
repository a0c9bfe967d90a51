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
  readonly address: string;
  readonly notes: string;
}

const shop = { kind: "shop", takesPartDeliveries: false, priorityWeight: 1, notes: "" } as const;
const market = { ...shop, kind: "market", contactName: "", email: "" } as const;

/** Twelve shops and two markets. */
export const sampleCustomers: readonly SampleCustomer[] = [
  {
    ...shop,
    name: "The Lamplit Otter",
    contactName: "Ottoline Marsh",
    email: "ottoline@lamplit-otter.example",
    address: "1 Wobbly Quay, Nether Puddle",
    priorityWeight: 2,
    notes: "Our oldest shop. Wants everything in one carton.",
  },
  {
    ...shop,
    name: "Pumpernickel & Seven Daughters",
    contactName: "Dorothea Pumpernickel the Fourth",
    email: "orders@seven-daughters.example",
    address: "7 Sevenfold Lane, Upper Drizzle",
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
    ...shop,
    name: "The Teaspoon Museum Shop",
    contactName: "Curator Ignatia Stirling-Sugar",
    email: "shop@teaspoon-museum.example",
    address: "2 Saucer Place, Nether Puddle",
  },
  {
    ...shop,
    name: "Quill & Custard",
    contactName: "Percival Custard",
    email: "percy@quill-custard.example",
    address: "19 Inkwell Steps, Saint Osk",
  },
  {
    ...shop,
    name: "The Ninth Hen",
    contactName: "Philippa Roost",
    email: "philippa@ninth-hen.example",
    address: "Coop Nine, Feather Yard, Marrow-under-Mist",
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
    ...shop,
    name: "Thimble for a Giant",
    contactName: "Little Agnes Colossus",
    email: "agnes@giants-thimble.example",
    address: "100 Enormous Close, Nether Puddle",
  },
  {
    ...shop,
    name: "The Bathtub Observatory",
    contactName: "Professor Lucius Plug",
    email: "plug@bathtub-observatory.example",
    address: "Dome Road, Marrow-under-Mist",
    priorityWeight: 1.5,
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
