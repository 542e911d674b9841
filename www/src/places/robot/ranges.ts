// A range bar in the drawing's style: least to most, the middle half, the middle, the robot as
// described, the limit. The numbers stand beside it in the table.

import type { SpreadRange } from '../../core/lab.types';
import { svg } from '../../dom';

const WIDTH = 240;
const MIDDLE = 11;

export function rangeBar({ five, nominal, limit }: SpreadRange): SVGSVGElement {
  const picture = svg('svg', { class: 'range', viewBox: `0 0 ${WIDTH} 22`, width: WIDTH, height: 22, 'aria-hidden': 'true' });
  const ends = [0, ...(five ?? []), nominal ?? 0, limit ?? 0];
  const least = Math.min(...ends);
  const span = Math.max(...ends) - least;
  const x = (value: number): number => 4 + ((value - least) / (span > 0 ? span : 1)) * (WIDTH - 8);
  const line = (x1: number, y1: number, x2: number, y2: number, kind: string): SVGLineElement =>
    svg('line', { x1, y1, x2, y2, class: kind });
  picture.append(line(4, 20.5, WIDTH - 4, 20.5, 'base'), line(x(0), 18, x(0), 22, 'base'));
  if (five !== undefined) {
    const [low, quarter, half, threeQuarters, high] = five;
    picture.append(
      line(x(low), MIDDLE, x(high), MIDDLE, 'span'),
      line(x(low), MIDDLE - 3, x(low), MIDDLE + 3, 'span'),
      line(x(high), MIDDLE - 3, x(high), MIDDLE + 3, 'span'),
    );
    if (limit !== undefined && high > limit) {
      picture.append(line(Math.max(x(limit), x(low)), MIDDLE, x(high), MIDDLE, 'past'));
    }
    picture.append(
      svg('rect', { x: x(quarter), y: MIDDLE - 5, width: Math.max(x(threeQuarters) - x(quarter), 0.5), height: 10, class: 'box' }),
      line(x(half), MIDDLE - 5, x(half), MIDDLE + 5, 'half'),
    );
  }
  if (limit !== undefined) picture.append(line(x(limit), 1, x(limit), 20, 'limit'));
  if (nominal !== undefined) picture.append(svg('circle', { cx: x(nominal), cy: MIDDLE, r: 2.6, class: 'as' }));
  return picture;
}
