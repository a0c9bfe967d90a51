import type { BlendLook } from "../components/Swatch.tsx";

/** A plan as its page shows it: names instead of codes, true instants instead of session numbers. */
export interface PlanFigures {
  readonly planId: number;
  readonly state: "proposed" | "accepted" | "superseded";
  readonly plannedAt: Date;
  readonly plannedBy: string;
  readonly acceptedAt: Date | null;
  readonly acceptedBy: string | null;
  /** Lateness in piece-days, and what no plan can go below. */
  readonly cost: number;
  readonly bound: number;
  /** Hand minutes of everything the plan itself makes. */
  readonly handMinutes: number;
  readonly lastDate: string;
  readonly sessions: readonly SessionFigures[];
  readonly drying: readonly DryingFigures[];
  readonly board: BoardFigures;
  readonly orders: readonly OrderFigures[];
  readonly holdUps: HoldUpFigures;
  readonly fullest: FullestFigures | null;
}

/** The first session in which a shape's molds are all in use. */
export interface FullestFigures {
  readonly shape: string;
  readonly date: string;
}

export interface SessionFigures {
  readonly date: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly mixing: boolean;
  readonly dryingFactor: number;
  readonly handMinutesUsed: number;
  readonly handMinutes: number;
  /** Pieces that leave their molds here, and pieces that are packed here. */
  readonly unmolded: number;
  readonly packed: number;
  /** Light before dark. */
  readonly runs: readonly RunFigures[];
}

export interface RunFigures {
  readonly look: BlendLook;
  readonly bowls: number;
  readonly batches: readonly BatchFigures[];
}

/** Pieces of one product from one run or already drying: a block on the board. */
export interface BatchFigures {
  /** Unique on the page; the board's blocks lead to it. */
  readonly anchor: string;
  readonly product: string;
  readonly units: number;
  readonly serves: readonly ServedFigures[];
  /** Pieces nobody has ordered. */
  readonly leftOver: number;
  /** False for a shape that is turned out at once and dries in no mold. */
  readonly holdsMold: boolean;
  /** Start of the session it leaves its molds in, or is firm enough to be lifted; null for what is out already, or when no session comes for it. */
  readonly unmoldedAt: Date | null;
  /** Date it is packed; null when no session comes for it. */
  readonly packedOn: string | null;
}

export interface DryingFigures extends BatchFigures {
  readonly look: BlendLook;
}

interface ServedFigures {
  readonly order: string;
  readonly customer: string;
  readonly units: number;
}

export interface OrderFigures {
  readonly reference: string;
  /** Null for an order that is no longer there. */
  readonly orderId: number | null;
  readonly customer: string;
  readonly shipBy: string;
  readonly market: boolean;
  readonly units: number;
  /** Pieces that are made beside those, for what is expected to be lost. */
  readonly spare: number;
  readonly readyOn: string | null;
  readonly daysLate: number;
  readonly unitsShort: number;
  readonly fate: "safe" | "tight" | "late" | "short";
  /** Where its pieces come from, the last ones at the end. */
  readonly sources: readonly SourceFigures[];
}

export interface SourceFigures {
  readonly product: string;
  readonly units: number;
  readonly from: "shelf" | "drying" | "run";
  /** Date of the session a run stands in; null for the others. */
  readonly pressedOn: string | null;
  readonly packedOn: string | null;
}

/** Why an order is late or not served in full. */
export interface LateFigures {
  readonly reference: string;
  readonly orderId: number | null;
  readonly customer: string;
  readonly market: boolean;
  readonly shipBy: string;
  readonly readyOn: string | null;
  readonly daysLate: number;
  readonly unitsShort: number;
  /** What is ready last, or never. */
  readonly waitsFor: { readonly product: string; readonly units: number };
  /** Null where a single piece more would find room. */
  readonly heldBy: HeldByFigures | null;
  /** When it would be ready if nobody else had ordered; null where it could not be served in full. */
  readonly alone: { readonly readyOn: string | null; readonly isProven: boolean };
  /** Days it would be late even then. */
  readonly unavoidableDays: number;
}

/** A limit that is reached, from the first date to the last, and who reaches it. */
export interface HeldByFigures {
  readonly kind: ResourceFigures["kind"];
  /** Name of the shape where it is mold sets. */
  readonly shape: string;
  readonly from: string;
  readonly to: string;
  /** Orders served by what takes the room there, without the late one itself. */
  readonly others: readonly string[];
  readonly alreadyDrying: boolean;
}

export interface HoldUpFigures {
  /** None where nobody asked, as the search was ended early. */
  readonly resources: readonly ResourceFigures[];
  readonly bottleneck: ResourceFigures | null;
}

export interface ResourceFigures {
  readonly kind: "moldSets" | "trays" | "handMinutes" | "mixers";
  /** Name of the shape where it is mold sets. */
  readonly shape: string;
  /** Sets, trays, mixers; for hands the most minutes of a session. */
  readonly limit: number;
  /** Shares of the limit. */
  readonly meanLoad: number;
  readonly peakLoad: number;
  /** Piece-days that one step more saves. */
  readonly oneMoreSaves: number;
  /** How many more steps save all that more of it alone can save, and how much; null where it saves nothing. */
  readonly enough: { readonly more: number; readonly saves: number } | null;
}

/** The drying board: one column a session, one band a limit. */
export interface BoardFigures {
  readonly columns: readonly ColumnFigures[];
  readonly bands: readonly BandFigures[];
  /** In the order in which they are stacked, the lowest first. */
  readonly blocks: readonly BlockFigures[];
  readonly looks: readonly { readonly code: string; readonly look: BlendLook }[];
}

export interface ColumnFigures {
  readonly date: string;
  readonly startsAt: Date;
  /** Days without a session between this column and the one before it. */
  readonly closedDaysBefore: number;
}

/** A batch as the board stacks it. */
export interface BlockFigures {
  readonly anchor: string;
  readonly blend: string;
  readonly words: string;
}

export interface BandFigures {
  readonly kind: "molds" | "trays" | "hands";
  /** Name of the shape where it is molds. */
  readonly shape: string;
  /** One entry a column. */
  readonly stacks: readonly StackFigures[];
}

export interface StackFigures {
  readonly used: number;
  readonly limit: number;
  /** One entry a block of the board: how much of the limit it takes here. */
  readonly amounts: readonly number[];
}
