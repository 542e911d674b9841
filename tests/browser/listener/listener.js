// Runs before the page's own scripts where the driver does not bring the page's console: keeps
// what is said there, what is not caught, what does not load, what the policy refuses.

(() => {
  /** @type {string[]} */
  const said = [];
  for (const kind of /** @type {const} */ (['debug', 'log', 'info', 'warn', 'error'])) {
    const say = console[kind];
    console[kind] = (...words) => {
      said.push(`console ${kind}: ${words.map(String).join(' ')}`);
      say.apply(console, words);
    };
  }
  // What does not load tells only its element, on the way down.
  addEventListener(
    'error',
    (event) => {
      const { target } = event;
      said.push(target instanceof Element ? `failed: ${target.outerHTML.slice(0, 200)}` : `uncaught: ${event.message}`);
    },
    true,
  );
  addEventListener('unhandledrejection', ({ reason }) => said.push(`uncaught: ${String(reason)}`));
  document.addEventListener('securitypolicyviolation', (event) => {
    said.push(`policy breach: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`);
  });
  Object.defineProperty(globalThis, 'said', { value: said });
})();
