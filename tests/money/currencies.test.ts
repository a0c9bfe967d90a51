import currencyCodesPackage from "currency-codes";
import { describe, expect, it } from "vitest";
import { currencyCodes, decimalsOf, isCurrency } from "../../server/money/currencies.ts";

/** ISO 4217 list one as published on 2024-06-25, as the package currency-codes 2.2.0 keeps it. */
const published = new Map(currencyCodesPackage.data.map(({ code, digits }) => [code, digits]));

/** List one says "N.A." for the minor units of these: metals, units of account, testing. Nobody pays with them. */
const NO_MONEY = "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX".split(" ");

describe("the currencies", () => {
  it("are those of ISO 4217 that one can pay with, and one that came after the published list", () => {
    const payable = [...published.keys()].filter((code) => !NO_MONEY.includes(code));
    expect(currencyCodes).toEqual([...payable, "XCG"].sort());
  });

  it("have as many decimals as ISO 4217 says", () => {
    const differing = currencyCodes.filter(
      (code) => code !== "XCG" && published.get(code) !== decimalsOf(code),
    );
    expect(differing).toEqual([]);
    expect([decimalsOf("EUR"), decimalsOf("JPY"), decimalsOf("KWD"), decimalsOf("CLF")]).toEqual([
      2, 0, 3, 4,
    ]);
  });

  it("have the decimals Intl shows, but where the Unicode data departs from ISO 4217 for cash that is no longer used", () => {
    const shown = (code: string) =>
      new Intl.NumberFormat("en", { style: "currency", currency: code }).resolvedOptions()
        .maximumFractionDigits;
    const differing = currencyCodes.filter((code) => shown(code) !== decimalsOf(code));
    // Unicode CLDR, supplemental data, currencyData: digits as people use them, 0 where coins have died out.
    for (const code of differing) expect([0, 2], code).toContain(shown(code));
    expect(differing.length).toBeLessThan(30);
    for (const code of "EUR USD GBP CHF SEK DKK NOK PLN CAD AUD JPY KRW KWD BHD TND".split(" "))
      expect(shown(code), code).toBe(decimalsOf(code));
  });

  it("know no other code", () => {
    expect(["eur", "EURO", "XAU", "", "ABC"].filter(isCurrency)).toEqual([]);
    expect(() => decimalsOf("ABC")).toThrow(RangeError);
  });
});
