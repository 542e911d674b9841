// The demonstrator's choices. What is refused stays as it was, with what was expected beside it.

import { el, letGoAfterPointer, say } from '../../dom';
import { stallWords as words } from '../../words/stall';
import { CONTRASTS, followable, IDLE, inOrder, LEAST_PRESSES, MOST_PRESSES, PRESSES, type Choices, type Contrast } from './choices';

export function makeForm(first: Choices, changed: (choices: Choices) => void): HTMLElement {
  const { choices: said } = words;
  let choices = first;
  const set = (part: Partial<Choices>): void => {
    choices = { ...choices, ...part };
    changed(choices);
  };
  const wrong = (): HTMLElement => el('p', { class: 'wrong', role: 'status' });

  const pressWrong = wrong();
  const presses = el('fieldset', { class: 'presses' }, el('legend', {}, said.presses), el('p', { class: 'note' }, said.pressHelp(LEAST_PRESSES, MOST_PRESSES)));
  for (const name of PRESSES) {
    const box = el('input', { type: 'checkbox', value: name });
    box.checked = choices.presses.includes(name);
    box.addEventListener('change', () => {
      const next = box.checked ? inOrder([...choices.presses, name]) : choices.presses.filter((one) => one !== name);
      const refusal = next.length > MOST_PRESSES ? said.tooMany(MOST_PRESSES) : next.length < LEAST_PRESSES ? said.tooFew(LEAST_PRESSES) : '';
      say(pressWrong, refusal);
      if (refusal === '') set({ presses: next });
      else box.checked = !box.checked;
    });
    presses.append(el('label', {}, box, said.names[name]));
  }
  presses.append(pressWrong);

  const contrast = letGoAfterPointer(el('select', {}));
  for (const name of CONTRASTS) contrast.append(el('option', { value: name }, said.contrasts[name]));
  contrast.value = choices.contrast;
  contrast.addEventListener('change', () => {
    set({ contrast: contrast.value as Contrast });
  });

  const tick = (name: 'two' | 'sound' | 'buzz'): HTMLElement => {
    const box = el('input', { type: 'checkbox', name });
    box.checked = choices[name];
    box.addEventListener('change', () => {
      set({ [name]: box.checked });
    });
    return el('label', {}, box, said[name]);
  };

  const idleWrong = wrong();
  const idle = el('input', { type: 'text', inputmode: 'numeric', class: 'small', value: choices.idle });
  idle.addEventListener('change', () => {
    const seconds = /^\s*\d+\s*$/.test(idle.value) ? Number(idle.value) : NaN;
    const fits = seconds >= IDLE.least && seconds <= IDLE.most;
    say(idleWrong, fits ? '' : said.idleWrong(IDLE.least, IDLE.most, choices.idle));
    if (fits) set({ idle: seconds });
    idle.value = String(choices.idle);
  });

  const volume = el('input', { type: 'range', min: 0, max: 1, step: 0.05, value: choices.volume });
  volume.addEventListener('change', () => {
    set({ volume: Number(volume.value) });
  });

  const addressWrong = wrong();
  const address = el('input', { type: 'text', inputmode: 'url', spellcheck: false, autocomplete: 'off', value: choices.address, 'aria-describedby': 'stalladdress' });
  address.addEventListener('change', () => {
    const found = address.value.trim() === '' ? '' : followable(address.value);
    say(addressWrong, found === undefined ? said.addressWrong(choices.address) : '');
    if (found !== undefined) set({ address: found });
    address.value = choices.address;
  });

  return el(
    'form',
    { class: 'stallform', 'aria-label': said.title },
    presses,
    el(
      'div',
      { class: 'others' },
      el('label', {}, `${said.contrast} `, contrast),
      tick('two'),
      el('label', {}, `${said.idle} `, idle),
      idleWrong,
      tick('sound'),
      el('label', {}, `${said.volume} `, volume),
      tick('buzz'),
      el('label', { class: 'long' }, `${said.address} `, address),
      el('p', { class: 'note', id: 'stalladdress' }, said.addressHelp),
      addressWrong,
      el('p', { class: 'note' }, said.language),
    ),
  );
}
