import type { Instance } from "../search/instance.ts";

/**
 * Everything each line could be served from: ready supplies and all sessions in which its product can be formed. Those of line
 * `l` are `first[l] .. first[l + 1] - 1`, in the order of their days.
 */
export class Offers {
  readonly first: Int32Array;
  readonly line: Int32Array;
  /** Session, or -1 minus the ready supply. */
  readonly source: Int32Array;
  readonly day: Int32Array;
  /** Most units the line could use of it. */
  readonly units: Int32Array;

  constructor(instance: Instance, formed: Int32Array) {
    const { sessions, lines, readyDay, shapeOf } = instance;
    // Mostly the earlier a session, the earlier its pieces are ready, but damp days dry slowly.
    const byDay = Array.from({ length: instance.shapes }, (_, shape) =>
      Int32Array.from({ length: sessions }, (_, session) => session).sort(
        (a, b) => readyDay[shape * sessions + a]! - readyDay[shape * sessions + b]! || a - b,
      ),
    );
    const first = new Int32Array(lines + 1);
    const all: { line: number; source: number; day: number; units: number }[] = [];
    for (let line = 0; line < lines; line++) {
      const product = instance.lineProduct[line]!;
      const wanted = instance.lineUnits[line]!;
      const shape = shapeOf[product]!;
      let ready = instance.firstReady[product]!;
      const addReady = (until: number) => {
        for (; ready < instance.firstReady[product + 1]! && instance.readyDays[ready]! <= until; ready++) {
          const units = Math.min(wanted, instance.readyUnits[ready]!);
          all.push({ line, source: -1 - ready, day: instance.readyDays[ready]!, units });
        }
      };
      for (const session of byDay[shape]!) {
        const units = Math.min(wanted, formed[product * sessions + session]!);
        if (units === 0) continue;
        const day = readyDay[shape * sessions + session]!;
        addReady(day);
        all.push({ line, source: session, day, units });
      }
      addReady(Number.POSITIVE_INFINITY);
      first[line + 1] = all.length;
    }
    this.first = first;
    this.line = Int32Array.from(all, (offer) => offer.line);
    this.source = Int32Array.from(all, (offer) => offer.source);
    this.day = Int32Array.from(all, (offer) => offer.day);
    this.units = Int32Array.from(all, (offer) => offer.units);
  }
}
