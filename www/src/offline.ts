// Works without network after one visit: a service worker keeps the page's files. A newer version
// waits until the visitor asks for it, so that nothing changes under anyone's hands; the robot,
// revisions and kept runs lie in the browser's own storage and stay.

import { button, el } from './dom';
import { words } from './words/page';

/** Time between looks for a newer version while the page stays open [ms]. */
const LOOK = 3_600_000;

/** Where the offer of a newer version goes. */
export function keepOffline(place: HTMLElement): void {
  // The one-file build needs none, and from file:// the browser refuses it.
  if (!import.meta.env.PROD || import.meta.env.MODE === 'onefile' || !('serviceWorker' in navigator)) return;
  const { serviceWorker } = navigator;
  let asked = false;
  /** Whether another version was in charge when this page came up. */
  const before = serviceWorker.controller !== null;
  let offered: HTMLElement | undefined;

  const offer = (newer: ServiceWorker): void => {
    offered?.remove();
    const load = button(words.offline.load, { class: 'act' }, () => {
      asked = true;
      if (newer.state === 'activated') location.reload();
      else newer.postMessage({ type: 'SKIP_WAITING' });
    });
    const later = button(words.offline.later, { class: 'link' }, () => {
      offered?.remove();
    });
    offered = el('p', { class: 'newer', role: 'status' }, words.offline.newer, ' ', load, ' ', later);
    place.append(offered);
  };
  const watch = (registration: ServiceWorkerRegistration): void => {
    if (registration.waiting !== null && before) offer(registration.waiting);
    registration.addEventListener('updatefound', () => {
      const next = registration.installing;
      next?.addEventListener('statechange', () => {
        if (next.state === 'installed' && serviceWorker.controller !== null) offer(next);
      });
    });
    const look = (): void => {
      // Without network there is nothing newer to be had.
      registration.update().catch(() => undefined);
    };
    setInterval(look, LOOK);
  };
  serviceWorker.addEventListener('controllerchange', () => {
    if (asked) location.reload();
    // Another tab asked: what this one loads late belongs to the newer version now.
    else if (before && serviceWorker.controller !== null) offer(serviceWorker.controller);
  });
  serviceWorker.register('./sw.js', { scope: './', updateViaCache: 'none' }).then(
    // Where a driver or an extension blocks it, there is none.
    (registration: ServiceWorkerRegistration | undefined) => {
      if (registration !== undefined) watch(registration);
    },
    () => {
      // A browser that refuses has a page that needs the network; it says so itself when it has none.
    },
  );
}
