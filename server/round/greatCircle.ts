/** A point on the earth in microdegrees, north and east positive. */
export interface Point {
  readonly latitudeMicro: number;
  readonly longitudeMicro: number;
}

/** Mean radius of the earth, (2a + b) / 3 of the GRS 80 ellipsoid (IUGG, 1980). */
const EARTH_KILOMETRES = 6371.0088;

/**
 * The distance along the great circle, in kilometres, by the haversine formula (R. W. Sinnott, "Virtues of the Haversine",
 * Sky and Telescope 68, 1984), which stays exact for points that are close together.
 */
export function greatCircleKilometres(from: Point, to: Point): number {
  const [fromLatitude, toLatitude] = [radians(from.latitudeMicro), radians(to.latitudeMicro)];
  const east = radians(to.longitudeMicro) - radians(from.longitudeMicro);
  const square =
    Math.sin((toLatitude - fromLatitude) / 2) ** 2 +
    Math.cos(fromLatitude) * Math.cos(toLatitude) * Math.sin(east / 2) ** 2;
  return 2 * EARTH_KILOMETRES * Math.asin(Math.min(1, Math.sqrt(square)));
}

function radians(microdegrees: number): number {
  return (microdegrees / 1_000_000) * (Math.PI / 180);
}
