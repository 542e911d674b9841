// What is packed together: a few byte strings behind the table of their lengths. Alike things in one parcel pack closer
// than each alone.

/** A table of so many lengths, of four bytes each, then the parts. */
export function parcel(parts: readonly Uint8Array[]): Uint8Array {
  const lengths = new Uint8Array(4 * parts.length);
  const view = new DataView(lengths.buffer);
  parts.forEach((part, i) => {
    view.setUint32(4 * i, part.length, true);
  });
  const all = [lengths, ...parts];
  const whole = new Uint8Array(all.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of all) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** The parts again. Throws where the lengths do not add up. */
export function unparcel(whole: Uint8Array, count: number): Uint8Array[] {
  const view = new DataView(whole.buffer, whole.byteOffset, whole.length);
  let at = 4 * count;
  const parts: Uint8Array[] = [];
  for (let i = 0; i < count; i++) {
    const end = at + view.getUint32(4 * i, true);
    parts.push(whole.subarray(at, end));
    at = end;
  }
  if (at !== whole.length) throw new Error(`a parcel of ${whole.length} bytes, ${at} expected`);
  return parts;
}
