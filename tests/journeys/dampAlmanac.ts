/*
 * The workshop of the journeys, as its maker would tell it: an invented one. Its week is that of Monday 22 March 2027,
 * whose Sunday is the night the clocks go forward in Lisbon (EU: last Sunday of March, 01:00 UTC).
 */

export const workshop = {
  "Name of the workshop": "The Damp Almanac",
  "Most mix, grams": "2600",
  "Least mix, grams": "900",
  "Mixer busy, minutes": "30",
  "Mixing by hand, minutes": "20",
  "Clean-down, minutes": "12",
  "First turned after, hours": "4.5",
  "Then every, hours": "3",
  Mixers: "1",
  "Drying trays": "24",
  "Days to plan ahead": "14",
};

export const timeZone = "Europe/Lisbon";

/** Mornings and afternoons from Monday to Friday; on Saturday an hour to fill the crates. */
export const sessions = [
  {
    days: ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"],
    from: "09:00",
    to: "13:00",
    hands: "300",
    mixing: true,
  },
  {
    days: ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday"],
    from: "14:00",
    to: "17:30",
    hands: "240",
    mixing: true,
  },
  { days: ["Saturday"], from: "06:30", to: "07:30", hands: "90", mixing: false },
];

const numbers = { Pressing: "45", Turning: "3", Unmolding: "15", Packing: "50" };

export const shapes = [
  {
    name: "Ball",
    dries: "lying in one half",
    fields: {
      "Mold sets": "30",
      "In the mold, hours": "16",
      "Rest, hours": "8",
      "Mix for a piece, grams": "118",
      "Pieces on a tray": "20",
      ...numbers,
    },
  },
  {
    name: "Heart",
    dries: "closed in the whole set",
    fields: {
      "Mold sets": "40",
      "In the mold, hours": "18",
      "Rest, hours": "8",
      "Mix for a piece, grams": "95",
      "Pieces on a tray": "24",
      ...numbers,
    },
  },
  {
    name: "Puck",
    dries: "turned out at once",
    fields: {
      "Mold sets": "0",
      "In the mold, hours": "5",
      "Rest, hours": "12",
      "Mix for a piece, grams": "62",
      "Pieces on a tray": "40",
      ...numbers,
    },
  },
];

export const blends = [
  { name: "Oat", colour: "#e8d6b3", pattern: "plain", shade: "0.1", shapes: ["Ball", "Heart", "Puck"] },
  { name: "Lavender", colour: "#a08fce", pattern: "dots", shade: "0.3", shapes: ["Ball", "Heart"] },
  { name: "Sea fennel", colour: "#6fb39d", pattern: "waves", shade: "0.4", shapes: ["Ball", "Puck"] },
  { name: "Cedar", colour: "#a86a3d", pattern: "lines", shade: "0.6", shapes: ["Ball", "Heart", "Puck"] },
  { name: "Black tea", colour: "#3d2d28", pattern: "crosses", shade: "0.95", shapes: ["Ball", "Puck"] },
];

interface Order {
  readonly order: string;
  readonly customer: string;
  readonly shipBy: string;
  /** Pieces by product code. */
  readonly lines: Readonly<Record<string, number>>;
}

/** Eleven shops and two markets; two of the shops take what is ready. */
export const customers = [
  { name: "The Tin Pelican", kind: "shop", parts: false },
  { name: "Pocket, Moth & Niece", kind: "shop", parts: false },
  { name: "The Borrowed Umbrella", kind: "shop", parts: true },
  { name: "Seventeen Spoons", kind: "shop", parts: false },
  { name: "The Backwards Clock", kind: "shop", parts: false },
  { name: "Grandmother Gale", kind: "shop", parts: false },
  { name: "The Polite Kraken", kind: "shop", parts: true },
  { name: "Unfinished Lighthouse", kind: "shop", parts: false },
  { name: "The Left Mitten", kind: "shop", parts: false },
  { name: "Owl & Afterthought", kind: "shop", parts: false },
  { name: "The Sunday Lantern", kind: "shop", parts: false },
  { name: "Market of Small Hours", kind: "market", parts: false },
  { name: "Fair at Nobody's Corner", kind: "market", parts: false },
] as const;

/** A week of orders: 44 lines. */
export const orders: readonly Order[] = [
  {
    order: "W-201",
    customer: "The Tin Pelican",
    shipBy: "2027-03-25",
    lines: { "oat/ball": 12, "lavender/ball": 8, "cedar/puck": 10 },
  },
  {
    order: "W-202",
    customer: "Pocket, Moth & Niece",
    shipBy: "2027-03-25",
    lines: { "oat/heart": 10, "oat/puck": 12, "cedar/heart": 6 },
  },
  {
    order: "W-203",
    customer: "The Borrowed Umbrella",
    shipBy: "2027-03-26",
    lines: { "sea-fennel/ball": 12, "sea-fennel/puck": 16, "black-tea/puck": 8 },
  },
  {
    order: "W-204",
    customer: "Seventeen Spoons",
    shipBy: "2027-03-26",
    lines: { "cedar/ball": 10, "cedar/heart": 8, "black-tea/ball": 6 },
  },
  {
    order: "W-205",
    customer: "The Backwards Clock",
    shipBy: "2027-03-29",
    lines: { "lavender/ball": 10, "lavender/heart": 12, "oat/ball": 6 },
  },
  {
    order: "W-206",
    customer: "Grandmother Gale",
    shipBy: "2027-03-29",
    lines: { "oat/puck": 18, "cedar/puck": 12, "sea-fennel/puck": 6 },
  },
  {
    order: "W-207",
    customer: "The Polite Kraken",
    shipBy: "2027-03-30",
    lines: { "black-tea/ball": 12, "black-tea/puck": 10, "cedar/ball": 8, "oat/ball": 6 },
  },
  {
    order: "W-208",
    customer: "Unfinished Lighthouse",
    shipBy: "2027-03-30",
    lines: { "sea-fennel/ball": 14, "lavender/heart": 8, "oat/heart": 8 },
  },
  {
    order: "W-209",
    customer: "The Left Mitten",
    shipBy: "2027-03-31",
    lines: { "cedar/heart": 12, "cedar/ball": 12, "black-tea/ball": 8 },
  },
  {
    order: "W-210",
    customer: "Owl & Afterthought",
    shipBy: "2027-03-31",
    lines: { "oat/ball": 16, "lavender/ball": 12 },
  },
  {
    order: "W-211",
    customer: "The Sunday Lantern",
    shipBy: "2027-04-01",
    lines: { "sea-fennel/ball": 10, "black-tea/ball": 10, "lavender/heart": 10 },
  },
  {
    order: "M-31",
    customer: "Market of Small Hours",
    shipBy: "2027-03-27",
    lines: { "oat/ball": 6, "lavender/ball": 6, "cedar/puck": 12, "oat/puck": 12, "sea-fennel/puck": 10 },
  },
  {
    order: "M-32",
    customer: "Fair at Nobody's Corner",
    shipBy: "2027-03-30",
    lines: {
      "lavender/heart": 8,
      "cedar/heart": 6,
      "cedar/ball": 6,
      "black-tea/puck": 12,
      "oat/heart": 6,
      "oat/puck": 8,
    },
  },
];

/** Pieces that stand ready before the week begins: those of one line, so that one order needs less to be made. */
export const stock = { product: "Oat – Ball", code: "oat/ball", units: 9 };

/** The week as the file a maker would have: columns in an order of their own, terms left to the customer. */
export function ordersFile(): string {
  const rows = orders.flatMap(({ order, customer, shipBy, lines }) =>
    Object.entries(lines).map(([product, units]) =>
      [shipBy, order, `"${customer}"`, units, product, ""].join(","),
    ),
  );
  return ["ship_by,order,customer,units,product,terms", ...rows, ""].join("\r\n");
}

/** Pieces on order of everything the filter lets through. */
export function unitsOnOrder(counts: (product: string, order: Order) => boolean = () => true): number {
  return orders
    .flatMap((order) => Object.entries(order.lines).filter(([product]) => counts(product, order)))
    .reduce((sum, [, units]) => sum + units, 0);
}
