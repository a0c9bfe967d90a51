/** How what is ordered gets to a customer, in the same words as a delivery. */
export const waysToTake = ["parcel", "local-round", "collected", "market-crate"] as const;
