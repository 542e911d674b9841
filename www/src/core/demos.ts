// The files of the demo robots. The board's core has only the first, with which it begins.

/** What stands in the core's list of demos under these keys. */
const FILES: Readonly<Record<string, () => Promise<{ readonly default: string }>>> = {
  cobnut: () => import('../../../crates/robot/demos/cobnut.json?raw'),
  thimble: () => import('../../../crates/robot/demos/thimble.json?raw'),
  hayrick: () => import('../../../crates/robot/demos/hayrick.json?raw'),
};

/** All of them by key, in the core's order. Rejects when one cannot be loaded. */
export async function demoFiles(): Promise<ReadonlyMap<string, string>> {
  const files = await Promise.all(Object.entries(FILES).map(async ([key, load]) => [key, (await load()).default] as const));
  return new Map(files);
}

/** A demo robot's file; none if no demo has this key. Rejects when it cannot be loaded. */
export async function demoFile(key: string): Promise<string | undefined> {
  return Object.hasOwn(FILES, key) ? (await FILES[key]?.())?.default : undefined;
}
