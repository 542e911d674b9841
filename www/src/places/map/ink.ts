// The map's inks: the page's colours as numbers, one hue by lightness for the measure, and a hatch
// for each outcome. All of it can be read in grey.

import { el } from '../../dom';

type Rgb = readonly [number, number, number];

export interface Inks {
  readonly paper: string;
  readonly ink: string;
  readonly muted: string;
  readonly grid: string;
  readonly limit: string;
  readonly kick: string;
  /** 256 colours from the least of the measure to the most: red, green, blue, 255. */
  readonly ramp: Uint8ClampedArray;
  /** Of each class a hatch for light and one for dark ground, in cells of 8 px. */
  readonly hatches: readonly HTMLCanvasElement[];
  readonly hatchesOver: readonly HTMLCanvasElement[];
}

/** Steps of the ramp. */
const STEPS = 256;
/** From this step on the ground is nearer to the ink than to the paper. */
export const DARK_FROM = 120;
/** How much ink is in the deepest colour. */
const DEEPEST = 0.45;
/** The lightest colour, as a share of the way from paper to the deepest: it must differ from bare paper. */
const LIGHTEST = 0.1;
/** Edge of a hatch's tile [px]. */
const TILE = 8;

/** How each hatch is drawn, in a tile of `TILE`, so that it goes on without a seam. */
const HATCHES: readonly ((pen: CanvasRenderingContext2D) => void)[] = [
  (pen) => { lines(pen, [[-2, 2, 2, -2], [-2, 10, 10, -2], [6, 10, 10, 6]]); },
  (pen) => { lines(pen, [[-2, 6, 2, 10], [-2, -2, 10, 10], [6, -2, 10, 2]]); },
  (pen) => { lines(pen, [[-2, 10, 10, -2], [-2, 2, 2, -2], [6, 10, 10, 6], [-2, -2, 10, 10], [-2, 6, 2, 10], [6, -2, 10, 2]]); },
  (pen) => { lines(pen, [[0, 4, 8, 4]]); },
  (pen) => { lines(pen, [[4, 0, 4, 8]]); },
  (pen) => { lines(pen, [[0, 4, 8, 4], [4, 0, 4, 8]]); },
  (pen) => { pen.fillRect(1, 1, 2, 2); pen.fillRect(5, 5, 2, 2); },
  (pen) => { lines(pen, [[0, 2, 4, 6], [4, 6, 8, 2]]); },
  (pen) => { lines(pen, [[0, 2, 5, 2], [4, 6, 8, 6], [0, 6, 1, 6]]); },
  (pen) => { lines(pen, [[1, 4, 7, 4], [4, 1, 4, 7]]); },
];

function lines(pen: CanvasRenderingContext2D, list: readonly (readonly [number, number, number, number])[]): void {
  pen.beginPath();
  for (const [ax, ay, bx, by] of list) {
    pen.moveTo(ax, ay);
    pen.lineTo(bx, by);
  }
  pen.stroke();
}

/** The hatch of a class, such as for the key; none for what settled. */
export const hatchOf = <T>(hatches: readonly T[], kind: number): T | undefined => (kind === 0 ? undefined : hatches[(kind - 1) % hatches.length]);

/** Reads the inks of the light that now holds. `probe` carries the page's colours by its style. */
export function readInks(probe: HTMLElement): Inks {
  const style = getComputedStyle(probe);
  const paper = rgbOf(style.backgroundColor, [255, 255, 255]);
  const ink = rgbOf(style.color, [0, 0, 0]);
  const hue = rgbOf(style.borderTopColor, [28, 109, 90]);
  const css = ([r, g, b]: Rgb): string => `rgb(${r} ${g} ${b})`;
  const deep = mix(hue, ink, DEEPEST);
  const ramp = new Uint8ClampedArray(4 * STEPS);
  for (let step = 0; step < STEPS; step++) {
    const [r, g, b] = mix(paper, deep, LIGHTEST + (1 - LIGHTEST) * (step / (STEPS - 1)));
    ramp.set([r, g, b, 255], 4 * step);
  }
  return {
    paper: css(paper),
    ink: css(ink),
    muted: style.borderRightColor,
    grid: style.borderBottomColor,
    limit: style.borderLeftColor,
    kick: style.outlineColor,
    ramp,
    hatches: HATCHES.map((draw) => tile(draw, css(ink))),
    hatchesOver: HATCHES.map((draw) => tile(draw, css(paper))),
  };
}

/** An element out of sight whose style names the colours; see map.css. */
export const makeProbe = (): HTMLElement => el('span', { class: 'mapinks', 'aria-hidden': 'true' });

function tile(draw: (pen: CanvasRenderingContext2D) => void, color: string): HTMLCanvasElement {
  const sharp = Math.max(1, Math.round(devicePixelRatio));
  const canvas = el('canvas', { width: TILE * sharp, height: TILE * sharp });
  const pen = canvas.getContext('2d');
  if (pen === null) return canvas;
  pen.scale(sharp, sharp);
  pen.strokeStyle = color;
  pen.fillStyle = color;
  pen.lineWidth = 1.1;
  draw(pen);
  return canvas;
}

function rgbOf(text: string, otherwise: Rgb): Rgb {
  const found = /^rgba?\(\s*([\d.]+)[ ,]+([\d.]+)[ ,]+([\d.]+)/.exec(text);
  if (found === null) return otherwise;
  return [Number(found[1]), Number(found[2]), Number(found[3])];
}

// Colours are mixed in OKLab (Ottosson 2020), in which equal steps look equally light.

function mix(from: Rgb, to: Rgb, share: number): Rgb {
  const [a, b] = [toLab(from), toLab(to)];
  return fromLab([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share]);
}

const linear = (byte: number): number => {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
};
const byte = (value: number): number => {
  const c = value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.min(Math.max(c, 0), 1));
};

function toLab([red, green, blue]: Rgb): Rgb {
  const [r, g, b] = [linear(red), linear(green), linear(blue)];
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function fromLab([light, a, b]: Rgb): Rgb {
  const l = (light + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (light - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (light - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    byte(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    byte(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    byte(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}
