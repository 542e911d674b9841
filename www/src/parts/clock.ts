// Time on the board: pause, one tick, slow motion, looking back, running again from rest.

import type { Actions } from '../actions';
import { button, el, letGoAfterPointer, say } from '../dom';
import type { Loop } from '../loop';
import { words } from '../words/page';

export function makeClock(actions: Actions, loop: Loop): HTMLElement {
  const { store } = actions;
  const pause = button('', { class: 'act pause' }, () => {
    actions.pause(!store.state.paused);
  });
  const tick = button(words.clock.tick, { class: 'act' }, () => {
    actions.tickOnce();
  });
  const rates = letGoAfterPointer(
    el('select', { class: 'rate', 'aria-label': words.clock.rate, title: words.clock.rate }),
  );
  for (const [rate, text] of words.clock.rates) {
    rates.append(el('option', { value: rate }, `× ${text}`));
  }
  rates.addEventListener('change', () => {
    const chosen = words.clock.rates.find(([rate]) => String(rate) === rates.value);
    if (chosen !== undefined) actions.rate(chosen[0]);
  });
  const scrub = el('input', {
    type: 'range',
    class: 'scrub',
    min: -20,
    max: 0,
    step: 0.01,
    value: 0,
    'aria-label': words.clock.scrub,
  });
  scrub.addEventListener('input', () => {
    actions.scrub(-Number(scrub.value));
  });
  const at = el('span', { class: 'at', 'aria-hidden': 'true' });
  const again = button(words.clock.again, { class: 'link' }, () => {
    actions.resetRun();
  });
  store.watch(['paused', 'back', 'rate'], ({ paused, back, rate }) => {
    pause.textContent = paused ? words.clock.run : words.clock.pause;
    pause.setAttribute('aria-pressed', String(paused));
    rates.value = String(rate);
    if (Number(scrub.value) !== -back) scrub.value = String(-back);
    say(at, words.clock.back(back));
    scrub.setAttribute('aria-valuetext', words.clock.backText(back));
  });
  let room = -1;
  loop.read(({ frame, layout }) => {
    // No farther back than there is something to see.
    const past = Math.max(0.01, (frame[layout.header.time] ?? 0) - (frame[layout.header.oldest] ?? 0));
    const whole = Math.min(20, Math.ceil(past));
    if (whole === room) return;
    room = whole;
    scrub.min = String(-whole);
  });
  const finer = el('span', { class: 'finer' });
  store.watch(['robot'], ({ robot }) => {
    say(finer, robot.stepDivisor > 1 ? words.clock.finer(robot.stepDivisor) : '');
  });
  return el(
    'div',
    { class: 'clock', role: 'group', 'aria-label': words.clock.group },
    pause,
    tick,
    rates,
    scrub,
    at,
    finer,
    again,
  );
}
