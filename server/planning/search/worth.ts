import type { Instance } from "./instance.ts";

/**
 * What a schedule's use of room is worth, in unit-days: set by session, and by shape and session for molds. A piece is
 * then worth all that it uses from forming to packing.
 */
export class Worth {
  /** For a tick of hands, by session. */
  readonly hands: Float64Array;
  /** For a mold place, by shape and session. */
  readonly molds: Float64Array;
  /** For a tray, by session. */
  readonly trays: Float64Array;
  /** For a piece, by shape and session of forming; follows from the others by `sumPieces`. */
  readonly pieces: Float64Array;
  readonly #instance: Instance;

  constructor(instance: Instance) {
    this.#instance = instance;
    this.hands = new Float64Array(instance.sessions);
    this.molds = new Float64Array(instance.shapes * instance.sessions);
    this.trays = new Float64Array(instance.sessions);
    this.pieces = new Float64Array(instance.shapes * instance.sessions);
  }

  sumPieces(): void {
    const instance = this.#instance;
    const { sessions, shapes } = instance;
    for (let shape = 0; shape < shapes; shape++) {
      for (let session = 0; session < sessions; session++) {
        const at = shape * sessions + session;
        if (instance.pack[at]! >= 0) this.pieces[at] = this.#ofPiece(shape, session);
      }
    }
  }

  #ofPiece(shape: number, session: number): number {
    const instance = this.#instance;
    const first = shape * instance.sessions;
    const unmold = instance.unmold[first + session]!;
    const pack = instance.pack[first + session]!;
    let worth =
      instance.formTicks[shape]! * this.hands[session]! +
      instance.unmoldTicks[shape]! * this.hands[unmold]! +
      instance.packTicks[shape]! * this.hands[pack]!;
    for (let at = session; at < unmold; at++) {
      worth += instance.turnTicks[shape]! * this.hands[at]!;
      if (instance.holdsMold[shape] === 1) worth += this.molds[first + at]!;
    }
    let trays = 0;
    for (let at = session; at < pack; at++) trays += this.trays[at]!;
    return worth + trays / instance.unitsPerTray[shape]!;
  }
}
