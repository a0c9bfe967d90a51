/** A blend as it is drawn: its own colour, and a pattern so that it is never told by colour alone. */
export interface BlendLook {
  readonly name: string;
  readonly colour: string;
  readonly pattern: BlendPattern;
}

export const blendPatterns = [
  "plain",
  "dots",
  "lines",
  "grid",
  "waves",
  "crosses",
  "flecks",
  "rings",
] as const;
export type BlendPattern = (typeof blendPatterns)[number];

/** The blend's round mark, to stand before its name. */
export function Swatch({ look }: { readonly look: BlendLook }) {
  const stroke = markOn(look.colour);
  return (
    <svg class="swatch" viewBox="0 0 16 16" aria-hidden="true">
      <rect width="16" height="16" fill={look.colour} />
      <PatternMarks pattern={look.pattern} stroke={stroke} />
    </svg>
  );
}

/**
 * One SVG `pattern` for a blend, to be put into `defs` once a drawing; areas are filled with `url(#id)`.
 * The tile is 16 by 16 user units.
 */
export function BlendFill({ id, look }: { readonly id: string; readonly look: BlendLook }) {
  return (
    <pattern id={id} width="16" height="16" patternUnits="userSpaceOnUse">
      <rect width="16" height="16" fill={look.colour} />
      <PatternMarks pattern={look.pattern} stroke={markOn(look.colour)} />
    </pattern>
  );
}

function PatternMarks({ pattern, stroke }: { readonly pattern: BlendPattern; readonly stroke: string }) {
  const drawn = { stroke, "stroke-width": 1.4, fill: "none" } as const;
  switch (pattern) {
    case "plain":
      return null;
    case "dots":
      return (
        <g fill={stroke}>
          <circle cx="4" cy="4" r="1.5" />
          <circle cx="12" cy="12" r="1.5" />
        </g>
      );
    case "lines":
      return <path d="M-2 10 10 -2M2 18 18 2" {...drawn} />;
    case "grid":
      return <path d="M0 8H16M8 0V16" {...drawn} />;
    case "waves":
      return <path d="M0 5q4-4 8 0t8 0M0 13q4-4 8 0t8 0" {...drawn} />;
    case "crosses":
      return <path d="M5 8H11M8 5V11" {...drawn} />;
    case "flecks":
      return <path d="M3 3l2 2M12 5l-2 1M5 12l1-2M12 12l2 1" {...drawn} />;
    case "rings":
      return <circle cx="8" cy="8" r="4" {...drawn} />;
  }
}

/** Dark marks on a light colour, light marks on a dark one (relative luminance, WCAG 2.2). */
function markOn(colour: string): "#2a221c" | "#fffcf5" {
  const channel = (from: number) => {
    const share = Number.parseInt(colour.slice(from, from + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  const luminance = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
  // Where both marks stand out alike, by at least 3.8 to 1.
  return luminance > 0.21 ? "#2a221c" : "#fffcf5";
}
