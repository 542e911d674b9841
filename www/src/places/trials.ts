// The place of trials: one trial, the show-day check, budgets. One of the three is seen at a time.

import './trials.css';
import { lab } from '../core/lab';
import type { Problem } from '../core/types';
import { button, el, say } from '../dom';
import type { Place, PlaceContext } from './place';
import { trialWords as words } from '../words/trials';
import { Bench } from './trials/bench';
import { Budgets } from './trials/budget';
import { OneTrial } from './trials/one';
import { ShowDay } from './trials/set';

interface Part {
  readonly element: HTMLElement;
  closed(): void;
}

export function make(context: PlaceContext): Place {
  const status = el('p', { class: 'note', role: 'status' });
  const failed = (problems: readonly Problem[]): void => {
    const [first] = problems;
    say(status, first === undefined ? '' : `${words.wrong} ${words.expected(first.expected, first.hint)}`);
  };
  const bench = new Bench(context.actions, failed);
  say(status, words.opening);
  bench.onCatalogue(() => {
    say(status, '');
  });
  const parts: readonly (readonly [string, Part])[] = [
    [words.tabs.one, new OneTrial(context, bench)],
    [words.tabs.set, new ShowDay(context, bench)],
    [words.tabs.budget, new Budgets(context, bench)],
  ];
  const tabs = tablist(parts.map(([name, part]) => [name, part.element]));
  return {
    element: el('div', { class: 'trials' }, tabs, status, ...parts.map(([, part]) => part.element)),
    opened: () => {
      lab().warm();
      bench.opened();
    },
    closed: () => {
      bench.closed();
      for (const [, part] of parts) part.closed();
    },
  };
}

/** Tabs as people know them by keys: arrows go from one to the next, each shows its part. */
function tablist(parts: readonly (readonly [string, HTMLElement])[]): HTMLElement {
  const list = el('div', { class: 'tabs', role: 'tablist', 'aria-label': words.tablist });
  const tabs = parts.map(([name, panel], index) => {
    const tab = button(name, { class: 'link', role: 'tab', id: `trials-tab-${index}`, 'aria-controls': `trials-part-${index}` }, () => {
      show(index);
    });
    panel.id = `trials-part-${index}`;
    panel.setAttribute('role', 'tabpanel');
    panel.setAttribute('aria-labelledby', tab.id);
    return tab;
  });
  const show = (shown: number): void => {
    tabs.forEach((tab, index) => {
      const seen = index === shown;
      tab.setAttribute('aria-selected', String(seen));
      tab.tabIndex = seen ? 0 : -1;
      const panel = parts[index]?.[1];
      if (panel !== undefined) panel.hidden = !seen;
    });
  };
  list.addEventListener('keydown', (event) => {
    const at = tabs.findIndex((tab) => tab.tabIndex === 0);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: tabs.length - 1 }[event.key];
    if (to === undefined) return;
    const next = (to + tabs.length) % tabs.length;
    show(next);
    tabs[next]?.focus();
    event.preventDefault();
    event.stopPropagation();
  });
  list.append(...tabs);
  show(0);
  return list;
}
