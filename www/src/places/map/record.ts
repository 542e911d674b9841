// What is kept of a map, and the check of what comes from the browser's storage. Nothing here knows
// the page.

import type { AxisOut, MapDone, MapPlan } from '../../core/lab.map';
import type { Question } from './form';

/** Rises only when older records can no longer be read as they are. */
export const MAP_VERSION = 1;

export interface KeptMap {
  readonly version: number;
  readonly id: string;
  readonly name: string;
  /** When it was kept [ms since 1970]. */
  readonly at: number;
  readonly robotName: string;
  /** Robot file, and as it was opened: a point can still be played. */
  readonly robot: string;
  readonly opened: string;
  readonly inches: boolean;
  readonly question: Question;
  /** Spreads in words; empty for none. */
  readonly spreads: string;
  readonly plan: MapPlan;
  readonly values: Float64Array;
  readonly classes: Uint8Array;
  readonly done: MapDone | undefined;
  readonly modelVersion: number;
  /** Limit that was drawn [SI]. */
  readonly limit: number | undefined;
}

const isText = (value: unknown): value is string => typeof value === 'string';
const isAxis = (value: unknown): value is AxisOut => {
  const it = value as Partial<AxisOut> | null | undefined;
  return (
    typeof it === 'object' &&
    it !== null &&
    isText(it.key) &&
    isText(it.label) &&
    isText(it.unit) &&
    typeof it.scale === 'number' &&
    typeof it.logarithmic === 'boolean' &&
    it.values instanceof Float64Array &&
    it.values.length > 0 &&
    it.values.length <= 256
  );
};

/** A kept map if it is whole; a damaged record answers nothing and is left where it is. */
export function checkMap(value: unknown): KeptMap | undefined {
  const it = value as Partial<KeptMap> | null | undefined;
  if (typeof it !== 'object' || it === null || it.version !== MAP_VERSION) return undefined;
  const { plan } = it;
  if (typeof plan !== 'object' || plan === null || !isAxis(plan.x) || !isAxis(plan.y)) return undefined;
  const { measure } = plan as Partial<MapPlan>;
  const count = plan.x.values.length * plan.y.values.length;
  const good =
    [it.id, it.name, it.robotName, it.robot, it.opened, it.spreads, plan.title].every(isText) &&
    typeof it.at === 'number' &&
    typeof it.question === 'object' &&
    isText(it.question?.measure) &&
    isText(measure?.key) &&
    typeof measure.scale === 'number' &&
    Array.isArray(plan.classes) &&
    plan.classes.every(({ key, label }) => isText(key) && isText(label)) &&
    Array.isArray(plan.edge) &&
    plan.edge.every((line) => line instanceof Float64Array) &&
    it.values instanceof Float64Array &&
    it.classes instanceof Uint8Array &&
    it.values.length === count &&
    it.classes.length === count;
  return good ? (it as KeptMap) : undefined;
}
