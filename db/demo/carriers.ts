/** Invented carriers: the names are nobody's, and addresses under the reserved name .example (RFC 2606) lead nowhere. */
export const sampleCarriers = [
  {
    name: "Slow Heron Post",
    services: ["in two days", "overnight", "letter box"],
    trackingPattern: "https://slow-heron.example/parcels/{number}",
  },
  { name: "Badger & Barrow", services: ["carton", "pallet"], trackingPattern: "" },
] as const;
