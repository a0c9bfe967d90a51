import type { DriesIn, Terms } from "../planning/case.ts";
import type { Calendar } from "./calendar.ts";

/** What a plan is made from, as the rows say it: codes for ids, milligrams and seconds, instants. */
export interface PlanFacts {
  readonly workshop: WorkshopFacts;
  readonly calendar: Calendar;
  /** Everything that is made now or was and is still on order, on the shelf or drying. */
  readonly shapes: readonly ShapeFacts[];
  readonly blends: readonly { readonly code: string; readonly shade: number }[];
  readonly products: readonly ProductFacts[];
  /** Pieces free to pack, at most one entry a product. */
  readonly stock: readonly UnitsOf[];
  /** Lots that are being made or dry. */
  readonly lots: readonly LotFacts[];
  /** Runs on the bench: begun and not yet pressed. */
  readonly runsOnBench: readonly RunFacts[];
  /** Orders to be packed, with what is left to pack. */
  readonly orders: readonly OrderFacts[];
}

interface WorkshopFacts {
  readonly name: string;
  readonly trays: number;
  readonly mixers: number;
  readonly bowlMilligrams: number;
  readonly minBowlMilligrams: number;
  readonly bowlMinutes: number;
  readonly mixMinutes: number;
  readonly cleanMinutes: number;
}

export interface ShapeFacts {
  readonly code: string;
  readonly moldSets: number;
  readonly driesIn: DriesIn;
  readonly moldMinutes: number;
  readonly restMinutes: number;
  readonly unitsPerTray: number;
  readonly pieceMilligrams: number;
  readonly formSeconds: number;
  readonly turnSeconds: number;
  readonly unmoldSeconds: number;
  readonly packSeconds: number;
}

interface ProductFacts {
  readonly code: string;
  readonly blend: string;
  readonly shape: string;
  /** What of the pressed pieces is expected to be lost, as the maker accepted it. */
  readonly lossBasisPoints: number;
}

export interface UnitsOf {
  readonly product: string;
  readonly units: number;
}

export interface LotFacts extends UnitsOf {
  readonly lotId: number;
  readonly state: "mixing" | "drying" | "resting";
  /** Pieces there are; for a lot still being mixed, pieces planned. */
  readonly units: number;
  /** Pieces that were pressed, lost ones too; for a lot still being mixed, pieces planned. */
  readonly pressed: number;
  /** It lies on its molds and trays, but nothing may be packed of it. */
  readonly stopped: boolean;
  readonly trays: number;
  /** Of the run it came from; 1 for pieces that were there before the first plan. */
  readonly dryingFactor: number;
  /** End of the session it is being made in; null for pieces that were there before the first plan. */
  readonly sessionEndsAt: Date | null;
  /** Null while it is being mixed. */
  readonly unmoldDueAt: Date | null;
  readonly readyDueAt: Date | null;
}

export interface RunFacts {
  readonly startedAt: Date;
  readonly sessionEndsAt: Date;
  readonly bowls: number;
  readonly pieces: readonly UnitsOf[];
}

export interface OrderFacts {
  /** The number both sides quote. */
  readonly reference: string;
  readonly terms: Terms;
  readonly shipBy: string;
  readonly weight: number;
  readonly lines: readonly UnitsOf[];
}
