/** Who stands on the sample's labels: as invented as the rest of it. */
export const sampleLabelMaker = {
  market: "eu",
  makerName: "The Thursday Walrus",
  makerPlace: "3 Kelp Steps, 00000 Lower Brackish, Nowhere",
  contact: "walrus@halfmold.example",
  adultsOnly: false,
  gs1Prefix: null,
} as const;

/** Months every product of the sample keeps: invented, as real ones rest on their own assessment. */
export const sampleDurabilityMonths = 12;

/** Two sheets by their dimensions: one that holds everything, one for small fronts. Lengths are micrometres. */
export const sampleSheets = [
  {
    name: "Large labels",
    unit: "mm",
    paperWidthMicrometres: 210_000,
    paperHeightMicrometres: 297_000,
    columns: 2,
    rows: 4,
    labelWidthMicrometres: 95_000,
    labelHeightMicrometres: 65_000,
    marginLeftMicrometres: 9_000,
    marginTopMicrometres: 15_500,
    gapAcrossMicrometres: 2_000,
    gapDownMicrometres: 2_000,
    isRound: false,
  },
  {
    name: "Small squares",
    unit: "mm",
    paperWidthMicrometres: 210_000,
    paperHeightMicrometres: 297_000,
    columns: 4,
    rows: 6,
    labelWidthMicrometres: 40_000,
    labelHeightMicrometres: 40_000,
    marginLeftMicrometres: 22_000,
    marginTopMicrometres: 23_500,
    gapAcrossMicrometres: 2_000,
    gapDownMicrometres: 2_000,
    isRound: false,
  },
] as const;
