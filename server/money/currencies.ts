/*
 * The currencies of ISO 4217 and how many decimals each is written with, after the list of its maintenance agency as
 * published on 2024-06-25, and XCG, which came in 2025 (from memory). Codes that are no money to pay with (metals, units of account without
 * minor units, testing) are left out.
 */

const NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF".split(" ");
const THREE = "BHD IQD JOD KWD LYD OMR TND".split(" ");
const FOUR = "CLF UYW".split(" ");
const TWO = [
  "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF",
  "CHE CHF CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ",
  "GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK",
  "MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB",
  "SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN",
  "UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG",
].flatMap((codes) => codes.split(" "));

const DECIMALS: ReadonlyMap<string, number> = new Map([
  ...NONE.map((code) => [code, 0] as const),
  ...TWO.map((code) => [code, 2] as const),
  ...THREE.map((code) => [code, 3] as const),
  ...FOUR.map((code) => [code, 4] as const),
]);

/** Every code, in order of the alphabet. */
export const currencyCodes: readonly string[] = [...DECIMALS.keys()].sort();

export function isCurrency(code: string): boolean {
  return DECIMALS.has(code);
}

/** Decimals of an amount: 2 for EUR, 0 for JPY, 3 for KWD. Throws RangeError for a code that is not on the list. */
export function decimalsOf(currency: string): number {
  const decimals = DECIMALS.get(currency);
  if (decimals === undefined) throw new RangeError(`${currency} is no currency of ISO 4217`);
  return decimals;
}
