// Puts the code of a wasm file together again, in the page. See code.ts.

import { CONSTANT, I32_CONST, LOCAL, LOCAL_GET, NEAR, PILE, PILES, Recent, throughCode, turned, type Mover, type Pile } from './code.ts';

/** The whole file, from its parts as `split` gives them. */
export function join(before: Uint8Array, piles: readonly Uint8Array[], behind: Uint8Array, length: number): Uint8Array<ArrayBuffer> {
  const joiner = new Joiner(piles, length);
  joiner.copy(before);
  throughCode(joiner);
  joiner.copy(behind);
  return joiner.file;
}

class Joiner implements Mover {
  readonly file: Uint8Array<ArrayBuffer>;
  readonly #piles: readonly Uint8Array[];
  /** How much of each pile is taken. */
  readonly #taken = new Uint32Array(PILES);
  #at = 0;
  #start = 0;
  readonly #recent = new Recent();

  constructor(piles: readonly Uint8Array[], length: number) {
    this.file = new Uint8Array(length);
    this.#piles = piles;
  }

  copy(bytes: Uint8Array): void {
    this.file.set(bytes, this.#at);
    this.#at += bytes.length;
  }

  byte(pile: Pile): number {
    return (this.file[this.#at++] = this.#next(pile));
  }

  number(pile: Pile): number {
    let value = 0;
    for (let weight = 1; ; weight *= 128) {
      const byte = this.byte(pile);
      value += (byte & 127) * weight;
      if (byte < 128) return value;
    }
  }

  distance(alignment: number): void {
    this.#write(turned(this.#nextNumber(PILE.distances), -alignment));
  }

  local(pile: Pile): void {
    this.#write(this.#recent.at(this.#nextNumber(pile) + NEAR));
  }

  instruction(): number {
    const told = this.#next(PILE.instructions);
    if (told >= LOCAL && told < LOCAL + 3 * NEAR) {
      const which = told - LOCAL;
      this.file[this.#at++] = LOCAL_GET + Math.floor(which / NEAR);
      this.#write(this.#recent.at(which % NEAR));
    } else {
      this.file[this.#at++] = told > CONSTANT && told <= CONSTANT + 3 ? I32_CONST : told;
    }
    return told;
  }

  begin(): void {
    this.#start = this.#at;
    this.#recent.forget();
  }

  end(): void {
    const length = this.#at - this.#start;
    let room = 1;
    for (let rest = length; rest > 127; rest >>>= 7) room += 1;
    this.file.copyWithin(this.#start + room, this.#start, this.#at);
    this.#at = this.#start;
    this.#write(length);
    this.#at += length;
  }

  #next(pile: Pile): number {
    const at = this.#taken[pile] ?? 0;
    const byte = this.#piles[pile]?.[at];
    if (byte === undefined) throw new Error(`pile ${pile} has an end too soon`);
    this.#taken[pile] = at + 1;
    return byte;
  }

  #nextNumber(pile: Pile): number {
    let value = 0;
    for (let weight = 1; ; weight *= 128) {
      const byte = this.#next(pile);
      value += (byte & 127) * weight;
      if (byte < 128) return value;
    }
  }

  #write(value: number): void {
    for (; value > 127; value >>>= 7) this.file[this.#at++] = (value & 127) | 128;
    this.file[this.#at++] = value;
  }
}
