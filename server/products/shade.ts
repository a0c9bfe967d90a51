/**
 * How dark a colour is: 0 lightest .. 1 darkest, in hundredths. One minus the lightness L* of CIE 1976 (ISO/CIE
 * 11664-4) for the relative luminance of sRGB (WCAG 2.2), so that equal steps look equal.
 *
 * @param colour "#rrggbb"
 */
export function shadeOf(colour: string): number {
  const luminance = 0.2126 * linear(colour, 1) + 0.7152 * linear(colour, 3) + 0.0722 * linear(colour, 5);
  const lightness = luminance > 216 / 24_389 ? 116 * Math.cbrt(luminance) - 16 : (24_389 / 27) * luminance;
  return Math.round(100 - lightness) / 100;
}

function linear(colour: string, from: number): number {
  const share = Number.parseInt(colour.slice(from, from + 2), 16) / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}
