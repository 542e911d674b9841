// What lies on the sheet besides the robot, its knobs and its title block. It comes when the robot is
// seen: with the strips' charts it weighs as much as all the rest of the page's script.

import type { Actions } from './actions';
import { makeAnnouncements } from './announce';
import type { Loop } from './loop';
import { makeDouble } from './parts/double';
import { makeProblems } from './parts/problems';
import { listenForDrops, makeRobots } from './parts/robots';
import { makeSettings } from './parts/settings';
import { fillStrips } from './parts/strips';
import type { TitleBlock } from './parts/titleblock';
import { makePlaces } from './places';
import type { Theme } from './theme';

/** Where it goes: boxes that are empty until then. */
export interface Boxes {
  readonly sheet: HTMLElement;
  /** Opens the double's row. */
  readonly doubleLink: HTMLElement;
  /** Give way to what stands in their place. */
  readonly double: HTMLElement;
  readonly problems: HTMLElement;
  readonly strips: HTMLElement;
  /** Gives way to the row of places and the place that is open. */
  readonly places: HTMLElement;
  readonly foot: HTMLElement;
}

export function furnish(boxes: Boxes, actions: Actions, loop: Loop, theme: Theme, results: TitleBlock): void {
  boxes.double.replaceWith(makeDouble(actions, loop, boxes.doubleLink));
  boxes.problems.replaceWith(makeProblems(actions));
  fillStrips(boxes.strips, actions, loop, theme);
  const { index, element } = makePlaces(actions, loop, theme);
  boxes.places.replaceWith(index, element);
  boxes.foot.append(makeRobots(actions), makeSettings(actions), ...makeAnnouncements(actions, loop, results));
  listenForDrops(actions, boxes.sheet);
  boxes.sheet.classList.add('furnished');
}
