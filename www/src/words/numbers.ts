// Numbers as the page's own words write them, the same in every language: a decimal point, because robot
// files and firmware have it, and a true minus.

export const minus = (text: string): string => text.replace(/^-/, '−');

/** Never "−0.0". */
export const fixed = (value: number, digits: number): string => {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : minus(text);
};

export const degrees = (radians: number, digits = 0): string => fixed((radians * 180) / Math.PI, digits);

/** With three digits, no more. */
export const three = (value: number): string =>
  Math.abs(value) >= 1000 ? minus(value.toFixed(0)) : minus(String(Number(value.toPrecision(3))));

export const plural = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** International foot [m]. */
export const FOOT = 0.3048;
/** A way [m] with its unit. */
export const way = (metres: number, digits: number, inches: boolean): string =>
  inches ? `${fixed(metres / FOOT, digits)} ft` : `${fixed(metres, digits)} m`;
/** A speed [m/s] with its unit. */
export const pace = (speed: number, digits: number, inches: boolean): string => `${way(speed, digits, inches)}/s`;
