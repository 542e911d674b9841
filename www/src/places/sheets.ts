// The place of sheets and clips: the board as a clip or a picture, the robot on paper, its gains as files.

import './trials.css';
import './sheets.css';
import { lab } from '../core/lab';
import type { GainsOut } from '../core/lab.sheets';
import { refused } from '../core/types';
import { el, say } from '../dom';
import { sheetsWords as words } from '../words/sheets';
import { trialWords } from '../words/trials';
import type { Place, PlaceContext } from './place';
import { CardPart } from './sheets/card';
import { ClipPart } from './sheets/clip';
import { GainsPart } from './sheets/gains';
import { LidPart } from './sheets/lid';
import { today } from './sheets/names';
import { StillPart } from './sheets/still';
import { Bench } from './trials/bench';

/** Rest after the last change of the robot before its gains are read anew [ms]. */
const REST = 250;

export function make(context: PlaceContext): Place {
  const status = el('p', { class: 'note', role: 'status' });
  const bench = new Bench(context.actions, () => undefined);
  const clip = new ClipPart(context);
  const still = new StillPart(context);
  const lid = new LidPart(context, bench);
  const card = new CardPart(context, bench);
  const gains = new GainsPart(context);
  let open = false;
  let stale = true;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const read = async (): Promise<void> => {
    stale = false;
    const { history } = context.actions.revisions;
    const { current } = history;
    const revision = [history.letter(current.id), current.name].filter((part) => part !== '').join(' ');
    const answer = await lab().run('gains', { ...bench.robot(), date: today(), revision });
    if (refused(answer)) {
      const [first] = answer.problems;
      say(status, first === undefined ? '' : `${trialWords.wrong} ${trialWords.expected(first.expected, first.hint)}`);
      return;
    }
    say(status, '');
    const told = answer as GainsOut;
    gains.show(told);
    card.offer(told.trials);
  };
  bench.onChange(() => {
    stale = true;
    clearTimeout(timer);
    if (open) timer = setTimeout(() => void read(), REST);
  });
  return {
    element: el(
      'div',
      { class: 'trials sheets' },
      el('p', { class: 'note' }, words.about),
      status,
      el('div', { class: 'pair' }, clip.element, still.element),
      lid.element,
      card.element,
      gains.element,
    ),
    opened: () => {
      lab().warm();
      open = true;
      still.sizes();
      if (stale) void read();
    },
    closed: () => {
      open = false;
      clearTimeout(timer);
      lid.closed();
      card.closed();
    },
  };
}
