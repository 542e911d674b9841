// Takes the code of a wasm file apart, at build time. See code.ts.

import {
  CONSTANT, I32_CONST, LOCAL, LOCAL_GET, LOCAL_TEE, NEAR, PILE, PILES, PREFIX, Recent, throughCode, turned, type Mover, type Pile,
} from './code.ts';

/** A wasm file: what stands before its functions, the piles in their order, what stands behind. */
export interface Apart {
  readonly before: Uint8Array;
  readonly piles: readonly Uint8Array[];
  readonly behind: Uint8Array;
}

const CODE_SECTION = 10;

export function split(wasm: Uint8Array): Apart {
  let at = 8;
  while (at < wasm.length) {
    const kind = wasm[at];
    const size = read(wasm, at + 1);
    const end = size.end + size.value;
    if (kind === CODE_SECTION) {
      const splitter = new Splitter(wasm.subarray(size.end, end));
      throughCode(splitter);
      splitter.finish();
      return {
        before: wasm.subarray(0, size.end),
        piles: splitter.piles.map((pile) => Uint8Array.from(pile)),
        behind: wasm.subarray(end),
      };
    }
    at = end;
  }
  throw new Error('wasm: no code section');
}

function read(bytes: Uint8Array, from: number): { value: number; end: number } {
  let value = 0;
  for (let at = from, weight = 1; ; at++, weight *= 128) {
    const byte = bytes[at];
    if (byte === undefined) throw new Error('wasm: a number has no end');
    value += (byte & 127) * weight;
    if (byte < 128) return { value, end: at + 1 };
  }
}

class Splitter implements Mover {
  readonly piles: readonly number[][] = Array.from({ length: PILES }, () => []);
  readonly #code: Uint8Array;
  #at = 0;
  #end = 0;
  #rank = 0;
  readonly #recent = new Recent();

  constructor(code: Uint8Array) {
    this.#code = code;
  }

  byte(pile: Pile): number {
    const byte = this.#code[this.#at];
    if (byte === undefined) throw new Error('wasm: the code has no end');
    this.#at += 1;
    this.#lay(pile, byte);
    return byte;
  }

  number(pile: Pile): number {
    const { value, end } = read(this.#code, this.#at);
    while (this.#at < end) this.byte(pile);
    return value;
  }

  distance(alignment: number): void {
    // Of natural size at most; more would be another memory.
    if (alignment > 4) throw new Error(`wasm: alignment ${alignment}`);
    const { value, end } = read(this.#code, this.#at);
    this.#at = end;
    this.#layNumber(PILE.distances, turned(value, alignment));
  }

  local(pile: Pile): void {
    this.#layNumber(pile, this.#rank - NEAR);
  }

  instruction(): number {
    const byte = this.#code[this.#at++] ?? 0;
    if (byte >= LOCAL && byte !== PREFIX) throw new Error(`wasm: instruction 0x${byte.toString(16)}`);
    const told = this.#told(byte);
    this.#lay(PILE.instructions, told);
    return told;
  }

  #told(instruction: number): number {
    if (instruction !== I32_CONST && (instruction < LOCAL_GET || instruction > LOCAL_TEE)) return instruction;
    const next = read(this.#code, this.#at);
    if (instruction === I32_CONST) return CONSTANT + Math.min(3, next.end - this.#at);
    this.#at = next.end;
    this.#rank = this.#recent.rankOf(next.value);
    return this.#rank < NEAR ? LOCAL + NEAR * (instruction - LOCAL_GET) + this.#rank : instruction;
  }

  begin(): void {
    const { value, end } = read(this.#code, this.#at);
    this.#at = end;
    this.#end = end + value;
    this.#recent.forget();
  }

  end(): void {
    if (this.#at !== this.#end) throw new Error('wasm: a function ends elsewhere than its length tells');
  }

  #layNumber(pile: Pile, value: number): void {
    for (; value > 127; value >>>= 7) this.#lay(pile, (value & 127) | 128);
    this.#lay(pile, value);
  }

  #lay(pile: Pile, byte: number): void {
    this.piles[pile]?.push(byte);
  }

  finish(): void {
    if (this.#at !== this.#code.length) throw new Error('wasm: the code goes on behind its last function');
  }
}
