// What reaches the stall before its part of the page is loaded: a link. Small, for the page's
// first script holds it.

/** The address that opens the stall; it stays in the address bar while the stall is open, so that a reload comes back to it. */
export const STALL_LINK = '#stall';

export const isStallLink = (hash: string): boolean => hash === STALL_LINK;

let asked = false;
let listener: (() => void) | undefined;

/** A link asks for the stall. */
export function askStall(): void {
  asked = true;
  tell();
}

/** Tells when it has been asked for, now and from now on. */
export function onStallAsked(listen: () => void): void {
  listener = listen;
  tell();
}

function tell(): void {
  if (!asked || listener === undefined) return;
  asked = false;
  listener();
}

let standing = false;

/** Whether the stall is open: its own address is no wish then. */
export const stallStands = (): boolean => standing;

export function setStallStands(stands: boolean): void {
  standing = stands;
}
