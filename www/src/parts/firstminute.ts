// The first minute's one sentence on the sheet. It follows what has really happened, in any
// order, and never asks for what was done already.

import { STEADIED } from '../core/types';
import type { Actions } from '../actions';
import { button, el, say } from '../dom';
import type { Facts, State } from '../store';
import { words } from '../words/page';
import type { TitleBlock } from './titleblock';

interface Step {
  /** Asked for when it is said: the words may come after this module. */
  readonly sentence: () => string;
  readonly done: (facts: Facts) => boolean;
}

/** A finger is what there is to press with. */
const noKeys = window.matchMedia('(hover: none) and (pointer: coarse)');
/** Where the knobs lie in a list under the drawing. */
const listed = window.matchMedia('(max-width: 1099px)');

const STEPS: readonly Step[] = [
  { sentence: () => (noKeys.matches ? words.guide.kickByTouch : words.guide.kick), done: (facts) => facts.kicked || facts.switched },
  { sentence: () => words.guide.switchOn, done: (facts) => facts.switched },
  { sentence: () => words.guide.again, done: (facts) => facts.settled },
  { sentence: () => words.guide.drive, done: (facts) => facts.drove },
  { sentence: () => (listed.matches ? words.guide.heavierBelow : words.guide.heavier), done: (facts) => facts.heavier },
  { sentence: () => words.guide.kickHeavy, done: (facts) => facts.kickedHeavy },
];

export const ALL_DONE: Facts = {
  kicked: true,
  switched: true,
  settled: true,
  drove: true,
  heavier: true,
  kickedHeavy: true,
};

export const NOTHING_YET: Facts = {
  kicked: false,
  switched: false,
  settled: false,
  drove: false,
  heavier: false,
  kickedHeavy: false,
};

/** The step the visitor is at; undefined when the first minute is over. */
export const stepOf = (facts: Facts): number | undefined => {
  const at = STEPS.findIndex((step) => !step.done(facts));
  return at < 0 ? undefined : at;
};

export function makeFirstMinute(actions: Actions, results: TitleBlock): HTMLElement {
  let since = performance.now();
  let farewell = false;
  const sentence = el('p', { class: 'sentence', role: 'status' });
  const skip = button(words.guide.skip, { class: 'link' }, () => {
    const over = stepOf(actions.store.state.facts) === undefined;
    farewell = !over;
    actions.store.set({ facts: over ? NOTHING_YET : ALL_DONE });
  });
  const element = el('div', { class: 'guide', role: 'group', 'aria-label': words.guide.label }, sentence, skip);

  const show = ({ facts, level }: State): void => {
    const at = stepOf(facts);
    say(skip, at === undefined ? words.guide.restart : words.guide.skip);
    element.dataset['step'] = at === undefined ? 'free' : String(at);
    if (at === undefined) {
      say(sentence, farewell ? words.guide.free : words.standing);
      return;
    }
    farewell = true;
    // The levers move nothing with the motors off.
    const needsSwitch = at >= 2 && at !== 4 && level !== STEADIED;
    say(sentence, needsSwitch ? words.guide.switchOn : (STEPS[at]?.sentence() ?? ''));
  };
  actions.store.watch(['facts', 'level'], (state) => {
    since = performance.now();
    show(state);
  });
  results.onEnd((run) => {
    const { level, facts } = actions.store.state;
    if (level === STEADIED && run.trial === 'kick' && run.outcomeClass === 'settled') {
      actions.note({ settled: true });
    } else if (facts.kicked && facts.switched && performance.now() - since > 20_000) {
      // A robot that does not settle must not hold the visitor here.
      actions.note({ settled: true });
    }
  });
  return element;
}
