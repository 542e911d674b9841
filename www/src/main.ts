// Opens the core, remembers the last visit, lays out the sheet and starts the clock.

import './words/tag';
import './style/sheet.css';
import './style/board.css';
import './style/knobs.css';
import './style/clock.css';
import './style/double.css';
import './style/column.css';
import './style/revisions.css';
import './style/problems.css';
import './style/opened.css';
import './style/places.css';
import { Actions } from './actions';
import { openBoard } from './core/open';
import { FRONT, OFF, SIDE } from './core/types';
import { el } from './dom';
import { Loop } from './loop';
import { ALL_DONE, NOTHING_YET } from './parts/firstminute';
import { GamePad } from './parts/levers';
import { keepRemembering, recall } from './remember';
import { chapterLink } from './places/handbook/asked';
import { leftWithin, lessonLink } from './places/lessons/asked';
import { askStall, isStallLink, stallStands } from './places/stall/asked';
import { makeSheet } from './sheet';
import { listenForKeys } from './shortcuts';
import { Store, type State } from './store';
import { Theme } from './theme';
import { heard, language } from './words/language';
import { words } from './words/page';

async function start(root: HTMLElement): Promise<void> {
  document.documentElement.lang = language;
  const board = await openBoard();
  document.title = words.name;
  const memory = recall();
  let damaged = memory.kind === 'damaged';
  if (memory.kind === 'found') {
    const { problems } = board.restore(memory.content.opened, memory.content.now);
    damaged = problems.some((problem) => problem.severity === 'error');
  }
  const found = memory.kind === 'found' && !damaged ? memory.content : undefined;
  board.inches(found?.units === 'inch');
  const facts = board.facts();
  const usual: State = {
    shown: 'side',
    active: SIDE,
    level: OFF,
    paused: false,
    rate: 1,
    back: 0,
    ticks: 0,
    kick: [
      { impulse: facts.kick[SIDE], height: facts.radius },
      { impulse: facts.kick[FRONT], height: facts.radius },
    ],
    bump: facts.bump,
    allKnobs: false,
    theme: 'auto',
    units: 'metric',
    shortcuts: true,
    motion: false,
    layers: 0,
    robot: facts,
    knobs: 0,
    problems: [],
    problemsOf: '',
    notice: damaged ? words.memory.damaged : '',
    facts: NOTHING_YET,
    place: undefined,
    double: undefined,
    four: false,
    spans: undefined,
  };
  const store = new Store(
    found === undefined
      ? usual
      : {
          ...usual,
          shown: found.shown,
          active: found.shown === 'front' ? FRONT : SIDE,
          theme: found.theme,
          units: found.units ?? 'metric',
          shortcuts: found.shortcuts,
          allKnobs: found.allKnobs,
          four: found.four ?? false,
          layers: found.layers,
          kick: found.kick,
          bump: found.bump,
          // A returning visitor who finished is not taught again.
          facts: found.facts.kickedHeavy === true && found.facts.switched === true ? ALL_DONE : { ...NOTHING_YET, ...found.facts },
        },
  );
  const theme = new Theme(store);
  const actions = new Actions(board, store);
  const loop = new Loop(board, store);
  const pad = new GamePad(actions);
  loop.paint(() => {
    // In the stall the pads are the visitors'.
    if (!stallStands()) pad.poll();
  });
  const sheet = makeSheet(actions, loop, theme);
  root.replaceChildren(sheet.element);
  sheet.arrange();
  // After the painters: the robot stands on the board.
  let marked = false;
  loop.read(({ frame, layout }) => {
    if (marked || !Number.isFinite(frame[layout.planes[store.state.active] + (layout.anchors['ball_x'] ?? 0)])) return;
    marked = true;
    performance.mark('robot');
  });
  theme.onChange(() => {
    loop.touch();
  });
  store.watch(['paused', 'back', 'ticks', 'shown', 'active', 'layers', 'robot', 'knobs', 'level', 'double'], () => {
    loop.touch();
  });
  listenForKeys(actions);
  keepRemembering(board, store, () => {
    actions.notice(words.memory.refused);
  });
  endEarlierLesson(actions)
    .catch(() => {
      // What was put away is a revision too.
    })
    .then(() => {
      listenForLinks(actions);
    });
  loop.start();
  root.dataset['ready'] = 'true';
  // The robot moves first; what was kept can wait.
  whenIdle(() => {
    import('./places/kept/history')
      .then(({ keepHistory }) => heard().then(() => keepHistory(actions)))
      .catch((cause: unknown) => {
        actions.notice(words.memory.noHistory(String(cause)));
      });
    import('./core/spans').then(
      ({ edgesOf }) => {
        edgesOf(actions);
      },
      () => {
        // Tracks without spans are tracks all the same.
      },
    );
    import('./offline').then(
      ({ keepOffline }) => {
        keepOffline(sheet.element.querySelector<HTMLElement>('.title') ?? root);
      },
      () => {
        // The page works without; the next visit tries again.
      },
    );
  });
}

function whenIdle(work: () => void): void {
  if (typeof requestIdleCallback === 'function') requestIdleCallback(work, { timeout: 2000 });
  else setTimeout(work, 500);
}

/** A visit that ended within a lesson left its own robot put away: it is given back first. */
async function endEarlierLesson(actions: Actions): Promise<void> {
  if (!leftWithin()) return;
  const { giveBackOfEarlier, given } = await import('./places/lessons/putaway');
  await heard();
  if (giveBackOfEarlier(actions)) actions.notice(given());
}

/** A link in the address is opened once and then taken out of it: a reload keeps what came after. */
function listenForLinks(actions: Actions): void {
  const open = (): void => {
    const { hash } = location;
    const takeOut = (): void => {
      history.replaceState(history.state, '', location.href.slice(0, -hash.length));
    };
    for (const [place, link] of [['lessons', lessonLink], ['handbook', chapterLink]] as const) {
      if (!link.is(hash)) continue;
      takeOut();
      link.ask(hash);
      actions.store.set({ place });
      return;
    }
    if (isStallLink(hash)) {
      // Its address stays while it is open.
      if (stallStands()) return;
      takeOut();
      askStall();
      actions.store.set({ place: 'stall' });
      return;
    }
    if (!/^#k\d+=/.test(hash)) return;
    takeOut();
    import('./link')
      .then(({ openLink }) => openLink(actions, hash))
      .catch((cause: unknown) => {
        actions.notice(words.link.failed(String(cause)));
      });
  };
  window.addEventListener('hashchange', open);
  open();
}

const root = document.querySelector('main');
if (root instanceof HTMLElement) {
  start(root).catch((cause: unknown) => {
    const reason = cause instanceof Error ? cause.message : String(cause);
    root.replaceChildren(
      el('div', { class: 'failed', role: 'alert' }, el('h1', {}, words.name), el('p', {}, words.noCore), el('p', {}, reason)),
    );
  });
}
