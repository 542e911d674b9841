// The one-file page's core: onefile/loader.ts unpacked it together with this script, and has begun to compile it.

declare global {
  var kickstillCore: Promise<WebAssembly.Module> | undefined;
}

export async function compileCore(): Promise<WebAssembly.Module> {
  if (globalThis.kickstillCore === undefined) throw new Error('the file holds no core');
  return globalThis.kickstillCore;
}
