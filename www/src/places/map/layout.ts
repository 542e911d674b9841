// Where the parts of a map's drawing lie, for the width it gets.

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface MapLayout {
  readonly width: number;
  readonly height: number;
  /** The cells. */
  readonly map: Rect;
  /** The measure along the crosshair's horizontal line, under the map. */
  readonly alongX: Rect;
  /** The measure along its vertical line: beside the map, or where there is no room as a strip below. */
  readonly alongY: Rect;
  readonly beside: boolean;
}

const LEFT = 60;
const TOP = 8;
const RIGHT = 14;
/** Ticks and name of an axis below. */
const FOOT = 38;
/** Narrower drawings have the second profile below [px]. */
const BESIDE_FROM = 520;
/** The map is this much less high than wide, and stays within these heights [px]. */
const SHAPE = 0.74;
const LEAST = 220;
/** Line that says what a profile is. */
const NAMED = 16;

/** `most` is the greatest height of the cells [px]; `profiles` whether there are any. */
export function layOut(width: number, most: number, profiles = true): MapLayout {
  const beside = profiles && width >= BESIDE_FROM;
  const side = beside ? Math.min(Math.max(width * 0.19, 100), 170) : 0;
  const mapWidth = Math.max(width - LEFT - RIGHT - (beside ? side + 22 : 0), 120);
  const mapHeight = Math.round(Math.min(Math.max(mapWidth * SHAPE, LEAST), Math.max(most, LEAST)));
  const map = { x: LEFT, y: TOP, width: mapWidth, height: mapHeight };
  const strip = width < 420 ? 74 : 84;
  const firstTop = TOP + mapHeight + FOOT + NAMED;
  const none = { x: LEFT, y: TOP + mapHeight, width: 0, height: 0 };
  if (!profiles) return { width, height: TOP + mapHeight + FOOT, map, alongX: none, alongY: none, beside: false };
  const alongX = { x: LEFT, y: firstTop, width: mapWidth, height: strip };
  if (beside) {
    const alongY = { x: LEFT + mapWidth + 22, y: TOP, width: side, height: mapHeight };
    return { width, height: firstTop + strip + FOOT, map, alongX, alongY, beside };
  }
  const alongY = { x: LEFT, y: firstTop + strip + FOOT + NAMED, width: mapWidth, height: strip };
  return { width, height: alongY.y + strip + FOOT, map, alongX, alongY, beside };
}
