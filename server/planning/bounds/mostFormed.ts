import { type Instance, unlimited } from "../search/instance.ts";

/** By product and session: most pieces that an otherwise empty workshop can form. */
export function mostFormed(instance: Instance): Int32Array {
  const { sessions, products } = instance;
  const most = new Int32Array(products * sessions);
  for (let product = 0; product < products; product++) {
    for (let session = 0; session < sessions; session++) {
      most[product * sessions + session] = mostFormedIn(instance, product, session);
    }
  }
  return most;
}

function mostFormedIn(instance: Instance, product: number, session: number): number {
  const { sessions, trayRoom, handRoom } = instance;
  const shape = instance.shapeOf[product]!;
  const unmold = instance.unmold[shape * sessions + session]!;
  const pack = instance.pack[shape * sessions + session]!;
  if (pack < 0 || instance.bowlRoom[session] === 0) return 0;
  let most = unlimited;
  const perTray = instance.unitsPerTray[shape]!;
  for (let at = session; at < pack; at++) most = Math.min(most, trayRoom[at]! * perTray);
  if (instance.holdsMold[shape] === 1) {
    const molds = shape * sessions;
    for (let at = session; at < unmold; at++) most = Math.min(most, instance.moldRoom[molds + at]!);
  }
  const turn = instance.turnTicks[shape]!;
  for (let at = session + 1; at < unmold; at++) most = within(most, handRoom[at]!, turn);
  const packTicks = instance.packTicks[shape]!;
  most = within(most, handRoom[unmold]!, instance.unmoldTicks[shape]! + (pack === unmold ? packTicks : 0));
  if (pack !== unmold) most = within(most, handRoom[pack]!, packTicks);
  const grams = instance.weightOf[product]!;
  most = within(most, instance.bowlRoom[session]! * instance.bowlGrams, grams);
  const forming = instance.formTicks[shape]! + turn + (instance.mixTicks * grams) / instance.bowlGrams;
  return Math.max(0, within(most, handRoom[session]! - instance.cleanTicks, forming));
}

/** As many of `most` pieces as have room, taking `perPiece` of it each. */
function within(most: number, room: number, perPiece: number): number {
  return room < most * perPiece ? Math.floor(room / perPiece) : most;
}
