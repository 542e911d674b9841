// What the core says, in German, by where it is from. `kickstill-build words` holds it against the
// core's sources.

import analysis from './core/analysis.json';
import demos from './core/demos.json';
import power from './core/power.json';
import rig from './core/rig.json';
import robot from './core/robot.json';
import scene from './core/scene.json';
import suggest from './core/suggest.json';
import sweep from './core/sweep.json';
import web from './core/web.json';

export const words: Readonly<Record<string, string>> = {
  ...analysis,
  ...demos,
  ...power,
  ...rig,
  ...robot,
  ...scene,
  ...suggest,
  ...sweep,
  ...web,
};
