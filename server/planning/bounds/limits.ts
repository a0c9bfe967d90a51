import { type Instance, ticksPerMinute } from "../search/instance.ts";

/**
 * The limits of a case in one list, so that each can have a price: hand minutes, trays and bowls by session, molds by
 * shape and session, then the ready supplies. Knows what a piece takes of them once it is formed.
 */
export class Limits {
  readonly trays: number;
  readonly bowls: number;
  readonly molds: number;
  readonly ready: number;
  readonly count: number;
  /** What there is of each. */
  readonly room: Float64Array;
  /** By shape: hand minutes of one piece in the session it is formed in. */
  readonly formingMinutes: Float64Array;
  readonly #instance: Instance;

  constructor(instance: Instance) {
    this.#instance = instance;
    const { sessions, shapes } = instance;
    this.trays = sessions;
    this.bowls = this.trays + sessions;
    this.molds = this.bowls + sessions;
    this.ready = this.molds + shapes * sessions;
    this.count = this.ready + instance.readyUnits.length;
    this.room = new Float64Array(this.count);
    instance.handRoom.forEach((ticks, session) => {
      this.room[session] = ticks / ticksPerMinute;
    });
    this.room.set(instance.trayRoom, this.trays);
    this.room.set(instance.bowlRoom, this.bowls);
    this.room.set(instance.moldRoom, this.molds);
    this.room.set(instance.readyUnits, this.ready);
    this.formingMinutes = Float64Array.from(
      instance.formTicks,
      (ticks, shape) => (ticks + instance.turnTicks[shape]!) / ticksPerMinute,
    );
  }

  /** Cell of a ready supply, which offers name by -1 minus its number. */
  readyCell(source: number): number {
    return this.ready - 1 - source;
  }

  /** Price of what one piece takes besides the hands of the session it is formed in. */
  priceOf(shape: number, session: number, price: Float64Array): number {
    const { sessions, unmold, pack, turnTicks } = this.#instance;
    const unmoldIn = unmold[shape * sessions + session]!;
    const packIn = pack[shape * sessions + session]!;
    const molds = this.molds + shape * sessions;
    let trays = 0;
    let held = 0;
    let turns = 0;
    for (let at = session; at < packIn; at++) trays += price[this.trays + at]!;
    for (let at = session; at < unmoldIn; at++) held += price[molds + at]!;
    for (let at = session + 1; at < unmoldIn; at++) turns += price[at]!;
    const hands =
      turnTicks[shape]! * turns +
      this.#instance.unmoldTicks[shape]! * price[unmoldIn]! +
      this.#instance.packTicks[shape]! * price[packIn]!;
    return (
      trays / this.#instance.unitsPerTray[shape]! +
      (this.#instance.holdsMold[shape] === 1 ? held : 0) +
      hands / ticksPerMinute
    );
  }

  /** Adds what `priceOf` prices, for so many pieces. */
  take(shape: number, session: number, units: number, use: Float64Array): void {
    const { sessions, unmold, pack, turnTicks, unmoldTicks, packTicks } = this.#instance;
    const unmoldIn = unmold[shape * sessions + session]!;
    const packIn = pack[shape * sessions + session]!;
    const molds = this.molds + shape * sessions;
    const holdsMold = this.#instance.holdsMold[shape] === 1;
    const tray = units / this.#instance.unitsPerTray[shape]!;
    for (let at = session; at < packIn; at++) use[this.trays + at]! += tray;
    for (let at = session; at < unmoldIn; at++) {
      if (holdsMold) use[molds + at]! += units;
      if (at > session) use[at]! += (units * turnTicks[shape]!) / ticksPerMinute;
    }
    use[unmoldIn]! += (units * unmoldTicks[shape]!) / ticksPerMinute;
    use[packIn]! += (units * packTicks[shape]!) / ticksPerMinute;
  }
}
