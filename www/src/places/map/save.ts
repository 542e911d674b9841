// A map as a picture with its axes and title, and as numbers; and the presses that save them.

import type { Actions } from '../../actions';
import type { MapDone } from '../../core/lab.map';
import { button, el } from '../../dom';
import { download } from '../kept/table';
import { mapWords as words } from '../../words/map';
import { drawBase, FONT, isOutcome, Raster, type Drawn, type Spot } from './draw';
import { onAxis, type MapFigure } from './figure';
import type { Inks } from './ink';
import { drawKey } from './key';
import { layOut } from './layout';
import { drawCross } from './marks';
import { valueOf, type MapModel } from './model';
import { drawProfile } from './profile';

/** Width of the picture in its own units, and how many pixels each has. */
const WIDTH = 880;
const FINE = 2;
const HEAD = 54;
const FOOT = 24;

/** What a saved map says of itself. */
export interface Facts {
  readonly robot: string;
  readonly title: string;
  readonly trial: string;
  readonly modelVersion: number;
  readonly done: MapDone | undefined;
  readonly spreads: string;
  readonly robotAt: Spot | undefined;
}

function pictureOf(model: MapModel, inks: Inks, drawn: Drawn, facts: Facts): Promise<Blob | null> {
  const canvas = document.createElement('canvas');
  const pen = canvas.getContext('2d');
  if (pen === null) return Promise.resolve(null);
  const profiles = facts.robotAt !== undefined && !isOutcome(model);
  const layout = layOut(WIDTH, 560, profiles);
  const keyHigh = drawKey(pen, model, inks, drawn, 60, 0, WIDTH - 80, false);
  const height = HEAD + layout.height + keyHigh + FOOT;
  canvas.width = WIDTH * FINE;
  canvas.height = height * FINE;
  pen.scale(FINE, FINE);
  pen.fillStyle = inks.paper;
  pen.fillRect(0, 0, WIDTH, height);
  pen.fillStyle = inks.ink;
  pen.textBaseline = 'alphabetic';
  pen.font = `700 15px ${FONT}`;
  pen.fillText(facts.title, 60, 24, WIDTH - 80);
  pen.font = `12px ${FONT}`;
  pen.fillStyle = inks.muted;
  pen.fillText([facts.robot, facts.trial, facts.spreads].filter((part) => part !== '').join(', '), 60, 42, WIDTH - 80);
  pen.translate(0, HEAD);
  drawBase(pen, model, layout, inks, new Raster(), drawn);
  const { robotAt } = facts;
  if (robotAt !== undefined) {
    if (profiles) {
      const { x, y } = model.plan;
      drawProfile(pen, model, layout, 'x', robotAt, inks, drawn, words.profileX(onAxis(y, valueOf(y, robotAt.y))));
      drawProfile(pen, model, layout, 'y', robotAt, inks, drawn, words.profileY(onAxis(x, valueOf(x, robotAt.x))));
    }
    drawCross(pen, model, layout.map, inks, robotAt);
  }
  drawKey(pen, model, inks, drawn, 60, layout.height + 4, WIDTH - 80, true);
  pen.font = `10px ${FONT}`;
  pen.fillStyle = inks.muted;
  pen.textBaseline = 'alphabetic';
  const digest = facts.done === undefined ? '' : words.digest(facts.done.digest, facts.modelVersion);
  pen.fillText(digest, 60, layout.height + keyHigh + 12, WIDTH - 80);
  return new Promise((resolve) => {
    canvas.toBlob(resolve, 'image/png');
  });
}

const quoted = (text: string): string => (/[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

function numbersOf(model: MapModel, facts: Facts): string {
  const { x, y, measure, classes, runs } = model.plan;
  const { csvHead: head } = words;
  const rows: string[] = [];
  const say = (name: string, text: string): void => {
    if (text !== '') rows.push(`# ${name}: ${text}`.replace(/[\r\n]+/g, ' '));
  };
  rows.push(`# ${head.title}: ${facts.title}`);
  say(head.robot, facts.robot);
  say(head.trial, facts.trial);
  say(head.measure, measure.label);
  say(head.model, String(facts.modelVersion));
  say(head.digest, facts.done?.digest ?? '');
  say(head.cells, `${model.nx} × ${model.ny}`);
  say(head.runs, String(runs));
  if (facts.spreads !== '') rows.push(`# ${facts.spreads}`);
  say(head.robotAt, `${onAxis(y, y.now)}, ${onAxis(x, x.now)}`);
  const shown = (unit: string): string => (unit === '' ? '1' : unit);
  const columns = [
    `${x.key} [SI]`,
    `${x.label} [${shown(x.unit)}]`,
    `${y.key} [SI]`,
    `${y.label} [${shown(y.unit)}]`,
    ...(isOutcome(model) ? [] : [`${measure.key} [SI]`, `${measure.label} [${shown(measure.unit)}]`]),
    'outcome',
  ];
  rows.push(columns.map(quoted).join(','));
  const number = (value: number): string => (Number.isFinite(value) ? String(value) : '');
  const inUnit = (value: number, scale: number): string => (Number.isFinite(value) ? String(Number((value * scale).toPrecision(9))) : '');
  for (let j = 0; j < model.ny; j++) {
    for (let i = 0; i < model.nx; i++) {
      const cell = model.cell(i, j);
      const [vx, vy] = [x.values[i] ?? Number.NaN, y.values[j] ?? Number.NaN];
      const value = cell?.value ?? Number.NaN;
      rows.push(
        [
          number(vx),
          inUnit(vx, x.scale),
          number(vy),
          inUnit(vy, y.scale),
          ...(isOutcome(model) ? [] : [number(value), inUnit(value, measure.scale)]),
          quoted(cell === undefined ? '' : (classes[cell.class]?.key ?? '')),
        ].join(','),
      );
    }
  }
  return `${rows.join('\n')}\n`;
}

/** Presses that save the map that a figure shows. */
export function saveLinks(actions: Actions, facts: () => Facts | undefined, figure: MapFigure): HTMLElement {
  const nameOf = ({ robot, title }: Facts): string =>
    [words.file, robot, title].join(' ').replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase().slice(0, 80).replace(/-$/, '');
  const save = (what: Facts, blob: Blob, ending: string): void => {
    const name = `${nameOf(what)}.${ending}`;
    download(blob, name);
    actions.notice(words.saved(name));
  };
  return el(
    'span',
    { class: 'rowof' },
    button(words.png, { class: 'link' }, () => {
      const [what, { model }] = [facts(), figure];
      if (what === undefined || model === undefined) return;
      void pictureOf(model, figure.inks, figure.drawn, what).then((blob) => {
        if (blob === null) actions.notice(words.pngFailed);
        else save(what, blob, 'png');
      });
    }),
    button(words.csv, { class: 'link' }, () => {
      const [what, { model }] = [facts(), figure];
      if (what === undefined || model === undefined) return;
      save(what, new Blob([numbersOf(model, what)], { type: 'text/csv' }), 'csv');
    }),
  );
}
