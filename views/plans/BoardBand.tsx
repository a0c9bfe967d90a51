import { scaleLinear } from "d3-scale";
import { counted, minutesWords, wholeWords } from "../format/quantities.ts";
import { fillOf } from "./BoardDays.tsx";
import { COLUMN, type ColumnPlaces } from "./boardPlaces.ts";
import type { BandFigures, BlockFigures, StackFigures } from "./planFigures.ts";

const TOP = 18;
const HEIGHT = 132;
const FLOOR = HEIGHT - 2;
/** From this height on a block has room for its number. */
const ROOM_FOR_NUMBER = 17;

interface Drawn {
  readonly left: number;
  readonly top: number;
  readonly height: number;
  readonly amount: number;
}

/** One limit over time: a shape's molds, the trays, or the hands. */
export function BoardBand({
  band,
  blocks,
  places,
}: {
  readonly band: BandFigures;
  readonly blocks: readonly BlockFigures[];
  readonly places: ColumnPlaces;
}) {
  const highest = Math.max(1, ...band.stacks.flatMap(({ used, limit }) => [used, limit]));
  const y = scaleLinear([0, highest], [FLOOR, TOP]);
  const title = bandTitle(band);
  return (
    <div>
      <h3 class="band-title">{title}</h3>
      <svg width={places.width} height={HEIGHT}>
        <title>{title}</title>
        {places.closed.map(({ left, width }) => (
          <rect key={left} class="closed-day" x={left} y={TOP} width={width} height={FLOOR - TOP} />
        ))}
        <line class="floor" x1={0} x2={places.width} y1={FLOOR} y2={FLOOR} />
        {blocks.map((block, index) => (
          <Block
            key={block.anchor}
            block={block}
            numbered={band.kind === "molds"}
            drawn={drawBlock(band.stacks, index, places, y)}
          />
        ))}
        {band.stacks.map((stack, column) => (
          <Column key={places.lefts[column]} stack={stack} left={places.lefts[column] ?? 0} y={y} />
        ))}
      </svg>
    </div>
  );
}

/** Where a block lies in each column it is in: on top of those before it. */
function drawBlock(
  stacks: readonly StackFigures[],
  index: number,
  { lefts }: ColumnPlaces,
  y: (amount: number) => number,
): readonly Drawn[] {
  return stacks.flatMap(({ amounts }, column) => {
    const amount = amounts[index] ?? 0;
    if (amount <= 0) return [];
    const below = amounts.slice(0, index).reduce((sum, other) => sum + other, 0);
    const top = y(below + amount);
    return [{ left: lefts[column] ?? 0, top, height: y(below) - top, amount }];
  });
}

function Block({
  block,
  drawn,
  numbered,
}: {
  readonly block: BlockFigures;
  readonly drawn: readonly Drawn[];
  readonly numbered: boolean;
}) {
  if (drawn.length === 0) return null;
  // The numbers stand beside the link: its name says them once, however many columns it spans.
  return (
    <g class="block">
      <a href={`#${block.anchor}`} aria-label={block.words}>
        {drawn.map(({ left, top, height }) => (
          <rect
            key={left}
            x={left}
            y={top}
            width={COLUMN}
            height={height}
            fill={`url(#${fillOf(block.blend)})`}
          />
        ))}
      </a>
      {drawn
        .filter(({ height }) => numbered && height >= ROOM_FOR_NUMBER)
        .map(({ left, top, height, amount }) => (
          <text key={left} x={left + COLUMN / 2} y={top + height / 2 + 5} text-anchor="middle">
            {wholeWords(amount)}
          </text>
        ))}
    </g>
  );
}

function Column({
  stack,
  left,
  y,
}: {
  readonly stack: StackFigures;
  readonly left: number;
  readonly y: (amount: number) => number;
}) {
  const { used, limit } = stack;
  const full = used > 0 && used >= limit - 1e-6;
  // A number that would stand across the limit's line stands above it.
  const crossed = y(used) - y(limit) < ROOM_FOR_NUMBER;
  const top = crossed ? Math.min(y(used), y(limit)) : y(used);
  return (
    <>
      <line class="limit" x1={left - 1} x2={left + COLUMN + 1} y1={y(limit)} y2={y(limit)} />
      {used > 0 && (
        <text class={full ? "in-use full" : "in-use"} x={left + COLUMN / 2} y={top - 4} text-anchor="middle">
          {wholeWords(used)}
        </text>
      )}
    </>
  );
}

function bandTitle({ kind, shape, stacks }: BandFigures): string {
  const limit = Math.max(0, ...stacks.map((stack) => stack.limit));
  if (kind === "molds") return `${shape} molds: room for ${counted(limit, "piece")} at once`;
  if (kind === "trays") return `Trays: ${wholeWords(limit)} in all`;
  return `Hands: minutes of each session, at most ${minutesWords(limit)}`;
}
