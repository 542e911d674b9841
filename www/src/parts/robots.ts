// Which robot stands on the board: the demo robots, a file opened, dropped or saved.

import type { Actions } from '../actions';
import { button, el, letGoAfterPointer } from '../dom';
import { words } from '../words/page';
import { readRobotFile } from './robotfile';

const OWN = '';

function save(actions: Actions): void {
  const { name } = actions.store.state.robot;
  const file = `${name.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase() || 'robot'}.robot.json`;
  const url = URL.createObjectURL(new Blob([actions.board.robotFile()], { type: 'application/json' }));
  const link = el('a', { href: url, download: file });
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 10_000);
  actions.notice(words.robots.saved(file));
}

async function copyLink(actions: Actions): Promise<void> {
  let link = '';
  try {
    const { makeLink } = await import('../link');
    link = await makeLink(actions);
    await navigator.clipboard.writeText(link);
    actions.notice(words.link.copied);
  } catch (cause) {
    if (link === '') actions.notice(words.link.failed(String(cause)));
    else {
      actions.notice(words.link.notCopied);
      actions.store.set({ place: 'kept' });
    }
  }
}

export function makeRobots(actions: Actions): HTMLElement {
  const pick = letGoAfterPointer(el('select', { class: 'pick', 'aria-label': words.robots.pick }));
  const demos = actions.board.demos();
  for (const demo of demos) pick.append(el('option', { value: demo.key }, demo.name));
  const own = el('option', { value: OWN }, '');
  pick.addEventListener('change', () => {
    if (pick.value !== OWN) void actions.openDemo(pick.value).then(showName);
  });
  const input = el('input', { type: 'file', accept: '.json,application/json', hidden: true });
  const open = (text: string, name: string): void => {
    actions.openRobot(text, name);
  };
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file !== undefined) void readRobotFile(actions, file, open);
    input.value = '';
  });
  const summary = el('p', { class: 'summary' });
  // Also when another could not be loaded: the list says which robot stands there.
  const showName = (): void => {
    const { robot } = actions.store.state;
    const known = demos.find((demo) => demo.name === robot.name);
    own.textContent = robot.name;
    if (known === undefined) pick.prepend(own);
    else own.remove();
    pick.value = known?.key ?? OWN;
    summary.textContent = `⌀ ${robot.diameter}, ${robot.mass}. ${robot.summary}`;
  };
  actions.store.watch(['robot'], showName);
  const buttons = el(
    'div',
    { class: 'files' },
    button(words.robots.open, { class: 'link' }, () => {
      input.click();
    }),
    button(words.robots.save, { class: 'link' }, () => {
      save(actions);
    }),
    button(words.link.copy, { class: 'link' }, () => {
      void copyLink(actions);
    }),
    input,
  );
  return el('section', { class: 'robots', 'aria-label': words.robots.pick }, pick, summary, buttons);
}

/** A file may be dropped anywhere on the page. */
export function listenForDrops(actions: Actions, sheet: HTMLElement): void {
  const over = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true;
  sheet.dataset['drop'] = words.robots.drop;
  document.addEventListener('dragover', (event) => {
    if (!over(event)) return;
    event.preventDefault();
    sheet.classList.add('dropping');
  });
  document.addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null) sheet.classList.remove('dropping');
  });
  document.addEventListener('drop', (event) => {
    if (!over(event)) return;
    event.preventDefault();
    sheet.classList.remove('dropping');
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) {
      void readRobotFile(actions, file, (text, name) => {
        actions.openRobot(text, name);
      });
    }
  });
}
