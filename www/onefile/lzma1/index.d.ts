// What is used of lzma1. Its own types are its sources, which do not pass this project's stricter rules.

/** Packs `data`; `mode` from 1, fast, to 9, small. */
export function compress(data: Uint8Array, mode?: number): Uint8Array;
