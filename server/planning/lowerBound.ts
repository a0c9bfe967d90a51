import { asReadyTerms, completeTerms, type Instance } from "./search/instance.ts";

const marketDays = 7;

/**
 * A lateness cost that no plan for the case can go below: what each order would cost if it were alone in the workshop
 * and each of its lines alone in the order. Leaves out least bowls and what pieces of different sessions take from each
 * other, so it errs only downwards.
 */
export function lowerBound(instance: Instance): number {
  let bound = 0;
  for (let order = 0; order < instance.orders; order++) bound += orderAlone(instance, order);
  return bound;
}

function orderAlone(instance: Instance, order: number): number {
  const terms = instance.orderTerms[order]!;
  const due = instance.orderDue[order]!;
  const weight = instance.orderWeight[order]!;
  const never = instance.orderNever[order]!;
  let unitDays = 0;
  let latest = 0;
  for (let line = instance.firstLine[order]!; line < instance.firstLine[order + 1]!; line++) {
    let left = instance.lineUnits[line]!;
    let lateDays = 0;
    for (const { day, units } of offersByDay(instance, line)) {
      if (left === 0) break;
      const days = Math.max(0, day - due);
      if (terms !== completeTerms && terms !== asReadyTerms && days > 0) break;
      const taken = Math.min(units, left);
      left -= taken;
      unitDays += taken * days;
      lateDays = days;
    }
    unitDays += left * (terms === completeTerms || terms === asReadyTerms ? never : marketDays);
    latest = Math.max(latest, left > 0 ? never : lateDays);
  }
  return weight * (terms === completeTerms ? latest * instance.orderUnits[order]! : unitDays);
}

/** What could serve a line, earliest first. */
function offersByDay(
  instance: Instance,
  line: number,
): readonly { readonly day: number; readonly units: number }[] {
  const product = instance.lineProduct[line]!;
  const want = instance.lineUnits[line]!;
  const offers: { day: number; units: number }[] = [];
  for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
    offers.push({ day: instance.readyDays[ready]!, units: instance.readyUnits[ready]! });
  }
  const shape = instance.shapeOf[product]! * instance.sessions;
  for (let session = 0; session < instance.sessions; session++) {
    const units = mostFormed(instance, product, session, want);
    if (units > 0) offers.push({ day: instance.readyDay[shape + session]!, units });
  }
  return offers.sort((a, b) => a.day - b.day);
}

/** Most pieces of a product, up to `want`, that an otherwise empty workshop can form in a session. */
export function mostFormed(instance: Instance, product: number, session: number, want: number): number {
  const { sessions } = instance;
  const shape = instance.shapeOf[product]!;
  const unmold = instance.unmold[shape * sessions + session]!;
  const pack = instance.pack[shape * sessions + session]!;
  if (pack < 0) return 0;
  let most = want;
  const limit = (hands: number, ticks: number) => {
    if (hands < most * ticks) most = Math.floor(hands / ticks);
  };
  for (let at = session; at < pack; at++) {
    most = Math.min(most, instance.trayRoom[at]! * instance.unitsPerTray[shape]!);
    if (at < unmold && instance.holdsMold[shape] === 1) {
      most = Math.min(most, instance.moldRoom[shape * sessions + at]!);
    }
    if (at < unmold && at > session) limit(instance.handRoom[at]!, instance.turnTicks[shape]!);
  }
  limit(
    instance.handRoom[unmold]!,
    instance.unmoldTicks[shape]! + (pack === unmold ? instance.packTicks[shape]! : 0),
  );
  if (pack !== unmold) limit(instance.handRoom[pack]!, instance.packTicks[shape]!);
  const grams = instance.weightOf[product]!;
  const mixRoom = instance.bowlRoom[session]! * instance.bowlGrams;
  if (instance.bowlRoom[session] === 0) return 0;
  if (mixRoom < most * grams) most = Math.floor(mixRoom / grams);
  limit(
    instance.handRoom[session]! - instance.cleanTicks,
    instance.formTicks[shape]! +
      instance.turnTicks[shape]! +
      (instance.mixTicks * grams) / instance.bowlGrams,
  );
  return Math.max(0, most);
}
