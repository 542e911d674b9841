export class InputBuffer {
  constructor(data: Uint8Array);
}

/** Grows as needed. */
export class OutputBuffer {
  constructor(capacity: number);
  toArray(): Uint8Array;
}
