/** Three shapes, one for each way to dry. Weights in grams, hours and seconds a piece are common practice, no source. */
export const sampleShapes = [
  {
    code: "ball-60",
    name: "Ball 60 mm",
    driesIn: "half",
    moldSets: 18,
    moldHours: 16,
    restHours: 8,
    unitsPerTray: 20,
    grams: 118,
    formSeconds: 48,
    turnSeconds: 4,
    unmoldSeconds: 15,
    packSeconds: 66,
  },
  {
    code: "heart-70",
    name: "Heart 70 mm",
    driesIn: "whole",
    moldSets: 24,
    moldHours: 18,
    restHours: 8,
    unitsPerTray: 24,
    grams: 95,
    formSeconds: 54,
    turnSeconds: 3,
    unmoldSeconds: 20,
    packSeconds: 66,
  },
  {
    code: "puck-40",
    name: "Puck 40 mm",
    driesIn: "none",
    moldSets: 0,
    moldHours: 5,
    restHours: 12,
    unitsPerTray: 40,
    grams: 62,
    formSeconds: 20,
    turnSeconds: 2,
    unmoldSeconds: 5,
    packSeconds: 40,
  },
] as const;

export type ShapeCode = (typeof sampleShapes)[number]["code"];

/** Eight blends, each told from every other by its pattern as well as by its colour. Shade 0 is lightest, 1 darkest. */
export const sampleBlends = [
  { code: "oat-milk", name: "Oat milk", colour: "#e8d6b3", pattern: "plain", shade: 0.1 },
  { code: "lavender", name: "Lavender", colour: "#a08fce", pattern: "dots", shade: 0.3 },
  { code: "sea-fennel", name: "Sea fennel", colour: "#6fb39d", pattern: "waves", shade: 0.4 },
  { code: "orange-peel", name: "Orange peel", colour: "#e28c34", pattern: "rings", shade: 0.5 },
  { code: "cedar", name: "Cedar", colour: "#a86a3d", pattern: "lines", shade: 0.6 },
  { code: "rose-hip", name: "Rose hip", colour: "#bd4454", pattern: "flecks", shade: 0.65 },
  { code: "juniper", name: "Juniper", colour: "#41607f", pattern: "grid", shade: 0.8 },
  { code: "black-tea", name: "Black tea", colour: "#3d2d28", pattern: "crosses", shade: 0.95 },
] as const;

type BlendCode = (typeof sampleBlends)[number]["code"];

/** A product's code: blend, slash, shape. */
export type SampleProduct = `${BlendCode}/${ShapeCode}`;

/** What the workshop sells: every blend as a ball, some as hearts and pucks too. */
export const sampleProducts: readonly SampleProduct[] = [
  "oat-milk/ball-60",
  "lavender/ball-60",
  "sea-fennel/ball-60",
  "orange-peel/ball-60",
  "cedar/ball-60",
  "rose-hip/ball-60",
  "juniper/ball-60",
  "black-tea/ball-60",
  "oat-milk/heart-70",
  "lavender/heart-70",
  "rose-hip/heart-70",
  "orange-peel/heart-70",
  "oat-milk/puck-40",
  "lavender/puck-40",
  "sea-fennel/puck-40",
  "cedar/puck-40",
  "black-tea/puck-40",
];
