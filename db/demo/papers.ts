/** What stands on the sample workshop's papers. The bank, the number and the place are invented and can be nobody's. */
export const sampleLetterhead = {
  name: "",
  address: "Driftwood Lane 7\nLower Mothbury",
  taxNumber: "Tax no. 00 000 000 (sample)",
  bank: "Bank of the Lesser Puddle, account 00 12 34",
  paymentWords: "Please name the number of the invoice when you pay.",
  footer: "Store cool and dry. A sample workshop: nothing here is for sale.",
  paperSize: "A4",
} as const;

/** An order whose shop pays before it leaves. */
export const SAMPLE_BILLED_AHEAD = "W-105";
