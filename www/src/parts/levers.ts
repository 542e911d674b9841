// Pushing and driving: kick and bump by press, the speed lever and the lean lever. A lever let
// go springs back; then the robot ramps down by itself.

import { FRONT, OFF, SIDE, type Plane } from '../core/types';
import type { Actions } from '../actions';
import { button, clamp, el } from '../dom';
import { words } from '../words/page';

const WAY = 100;

function makeLever(actions: Actions, plane: Plane): HTMLElement {
  const name = plane === SIDE ? words.acts.speed : words.acts.lean;
  const lever = el('input', {
    type: 'range',
    class: 'lever',
    min: -WAY,
    max: WAY,
    step: 1,
    value: 0,
    'aria-label': name,
  });
  const move = (share: number): void => {
    lever.value = String(share * WAY);
    lever.setAttribute('aria-valuetext', `${Math.round(share * 100)} %`);
    actions.lever(plane, share);
  };
  lever.addEventListener('input', () => {
    move(Number(lever.value) / WAY);
  });
  const spring = (): void => {
    move(0);
  };
  for (const event of ['pointerup', 'pointercancel', 'change', 'blur'] as const) {
    lever.addEventListener(event, spring);
  }
  // Held arrows move the lever to its end, as the arrow buttons do.
  lever.addEventListener('keydown', (event) => {
    const way = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    move(way);
  });
  lever.addEventListener('keyup', spring);
  const arrow = (way: 1 | -1): HTMLButtonElement => {
    const label = way > 0 ? words.acts.forward[plane] : words.acts.back[plane];
    const hold = el('button', { type: 'button', class: 'hold', 'aria-label': label, title: label });
    hold.textContent = way > 0 ? '→' : '←';
    hold.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      hold.setPointerCapture(event.pointerId);
      move(way);
    });
    for (const event of ['pointerup', 'pointercancel', 'blur'] as const) {
      hold.addEventListener(event, spring);
    }
    hold.addEventListener('contextmenu', (event) => {
      event.preventDefault();
    });
    hold.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      move(way);
    });
    hold.addEventListener('keyup', (event) => {
      if (event.key === 'Enter' || event.key === ' ') spring();
    });
    return hold;
  };
  const tag = el('span', { class: 'tag', 'aria-hidden': 'true' }, words.acts.levers[plane]);
  return el('div', { class: 'leverbox', role: 'group', 'aria-label': name }, tag, arrow(-1), lever, arrow(1));
}

export function makeActs(actions: Actions): HTMLElement {
  const kick = button(words.acts.kick, { class: 'act kick' }, () => {
    actions.kick(actions.store.state.active);
  });
  const bump = button(words.acts.bump, { class: 'act bump' }, () => {
    actions.bump(actions.store.state.active);
  });
  const levers = [makeLever(actions, SIDE), makeLever(actions, FRONT)] as const;
  const element = el('div', { class: 'acts', role: 'group', 'aria-label': words.acts.group });
  element.append(kick, bump, ...levers);
  actions.store.watch(['active', 'kick', 'bump', 'shown', 'level'], (state) => {
    const { active, level, shown } = state;
    const push = state.kick[active];
    kick.title = words.acts.kickTitle(words.results.push(push.impulse));
    bump.title = words.acts.bumpTitle(words.results.push(state.bump[active]));
    levers[SIDE].hidden = shown === 'front';
    levers[FRONT].hidden = shown === 'side';
    for (const lever of levers) {
      lever.classList.toggle('idle', level === OFF);
      if (level === OFF) lever.title = words.acts.needsSoftware;
      else lever.removeAttribute('title');
    }
  });
  return element;
}

/** The sticks of a game pad: left stick drives, right stick leans. Called once a frame. */
export class GamePad {
  readonly #held: [boolean, boolean] = [false, false];

  constructor(private readonly actions: Actions) {}

  poll(): void {
    const pad = navigator.getGamepads().find((one) => one?.connected === true);
    if (pad === undefined || pad === null) return;
    this.#stick(SIDE, -(pad.axes[1] ?? 0));
    this.#stick(FRONT, pad.axes[2] ?? 0);
  }

  #stick(plane: Plane, way: number): void {
    const DEAD = 0.15;
    const share = Math.abs(way) < DEAD ? 0 : clamp((Math.abs(way) - DEAD) / (1 - DEAD), 0, 1) * Math.sign(way);
    if (share === 0 && !this.#held[plane]) return;
    this.#held[plane] = share !== 0;
    this.actions.lever(plane, share);
  }
}
