// The code of a wasm file, taken apart by kind: instructions here, the locals they name there, distances in memory
// elsewhere. Each pile is alike in itself, so it packs a sixth closer than all in a row. The way through the code is the
// same when it is taken apart (split.ts, at build time) and when it is put together (join.ts, in the page).

/** The piles. What stands with the instructions is what they foretell best. */
export const PILE = {
  instructions: 0,
  read: 1,
  declared: 2,
  constants2: 3,
  constants: 4,
  long: 5,
  distances: 6,
  written: 7,
  indirect: 8,
  blocks: 9,
  branches: 10,
  tables: 11,
  singles: 12,
  doubles: 13,
  references: 14,
} as const;
export type Pile = (typeof PILE)[keyof typeof PILE];
export const PILES = Object.keys(PILE).length;

/** Moves what comes next in the code, between the code and a pile, and tells it. */
export interface Mover {
  /** One byte as it is. */
  byte(pile: Pile): number;
  /** A number as it is, of one byte or more. */
  number(pile: Pile): number;
  /** A distance in memory: the pile holds it turned, so that a whole number of what is loaded is a small number. */
  distance(alignment: number): void;
  /** The local that the instruction names: the pile holds how many others were named since, less `NEAR`. */
  local(pile: Pile): void;
  /**
   * An instruction, told as it lies in the pile: a constant's with its length as `CONSTANT` + 1, 2 or 3; one that names a
   * local of the last few as `LOCAL` + `NEAR` times which instruction it is + how many others were named since.
   */
  instruction(): number;
  /** A function's length stands before it in the code only: it is known when its end is. */
  begin(): void;
  end(): void;
}

export const I32_CONST = 0x41;
export const LOCAL_GET = 0x20;
export const LOCAL_TEE = 0x22;
/** What the piles say instead stands above all instructions of today; `split.ts` refuses one that does too. */
export const LOCAL = 0xe0;
export const NEAR = 3;
export const CONSTANT = 0xf0;
/** The one instruction that stands there: it begins those of two bytes. */
export const PREFIX = 0xfc;

const several = (mover: Mover, pile: Pile, count: number): void => {
  for (let i = 0; i < count; i++) mover.byte(pile);
};

/** All functions of a code section. */
export function throughCode(mover: Mover): void {
  for (let functions = mover.number(PILE.declared); functions > 0; functions--) {
    mover.begin();
    for (let runs = mover.number(PILE.declared); runs > 0; runs--) {
      mover.number(PILE.declared);
      mover.byte(PILE.declared);
    }
    let depth = 1;
    while (depth > 0) {
      const instruction = mover.instruction();
      if (instruction >= 0x02 && instruction <= 0x04) depth += 1;
      else if (instruction === 0x0b) depth -= 1;
      operands(mover, instruction);
    }
    mover.end();
  }
}

function operands(mover: Mover, instruction: number): void {
  // Loads and stores: alignment and distance.
  if (instruction >= 0x28 && instruction <= 0x3e) {
    mover.distance(mover.number(PILE.instructions));
    return;
  }
  // Arithmetic has none; the last locals have it in themselves.
  if (instruction >= 0x45 && instruction <= 0xc4) return;
  if (instruction >= LOCAL && instruction < LOCAL + 3 * NEAR) return;
  switch (instruction) {
    case 0x00: // unreachable
    case 0x01: // nop
    case 0x05: // else
    case 0x0b: // end
    case 0x0f: // return
    case 0x1a: // drop
    case 0x1b: // select
    case 0xd1: // ref.is_null
      return;
    case 0x02: // block
    case 0x03: // loop
    case 0x04: // if
      mover.number(PILE.blocks);
      return;
    case 0x0c: // br
    case 0x0d: // br_if
      mover.number(PILE.branches);
      return;
    case 0x0e: // br_table
      for (let targets = mover.number(PILE.tables); targets >= 0; targets--) mover.number(PILE.tables);
      return;
    case 0x11: // call_indirect
      mover.number(PILE.indirect);
      mover.number(PILE.indirect);
      return;
    case LOCAL_GET:
      mover.local(PILE.read);
      return;
    case 0x21: // local.set
    case LOCAL_TEE:
      mover.local(PILE.written);
      return;
    case 0x10: // call
    case 0x23: // global.get
    case 0x24: // global.set
    case 0x3f: // memory.size
    case 0x40: // memory.grow
      mover.number(PILE.instructions);
      return;
    case 0x25: // table.get
    case 0x26: // table.set
    case 0xd0: // ref.null
    case 0xd2: // ref.func
      mover.number(PILE.references);
      return;
    case CONSTANT + 1:
      mover.number(PILE.instructions);
      return;
    case CONSTANT + 2:
      mover.number(PILE.constants2);
      return;
    case CONSTANT + 3:
      mover.number(PILE.constants);
      return;
    case 0x42: // i64.const
      mover.number(PILE.long);
      return;
    case 0x43: // f32.const
      several(mover, PILE.singles, 4);
      return;
    case 0x44: // f64.const
      several(mover, PILE.doubles, 8);
      return;
    case PREFIX:
      furtherOperands(mover, mover.number(PILE.instructions));
      return;
    default:
      throw new Error(`wasm: instruction 0x${instruction.toString(16)} is not known to onefile/code.ts`);
  }
}

/** By so many bits, in 32; a negative number turns it back. */
export const turned = (value: number, by: number): number => (by === 0 ? value : ((value >>> by) | (value << -by)) >>> 0);

/** Conversions that saturate, and those that move much at once. */
function furtherOperands(mover: Mover, instruction: number): void {
  const COUNTS = [0, 0, 0, 0, 0, 0, 0, 0, 2, 1, 2, 1, 2, 1, 2, 1, 1, 1];
  const count = COUNTS[instruction];
  if (count === undefined) throw new Error(`wasm: instruction 0xfc ${instruction} is not known to onefile/code.ts`);
  for (let i = 0; i < count; i++) mover.number(PILE.references);
}

/** The locals of a function, the one named last in front. Those not named yet stand behind, in their order. */
export class Recent {
  #order = new Uint32Array(64);
  #known = 0;

  /** Another function begins. */
  forget(): void {
    this.#known = 0;
  }

  rankOf(local: number): number {
    this.#reach(local);
    const order = this.#order;
    let rank = 0;
    while (order[rank] !== local) rank += 1;
    this.at(rank);
    return rank;
  }

  at(rank: number): number {
    this.#reach(rank);
    const order = this.#order;
    const local = order[rank] ?? 0;
    for (let i = rank; i > 0; i--) order[i] = order[i - 1] ?? 0;
    order[0] = local;
    return local;
  }

  #reach(place: number): void {
    if (place >= this.#order.length) {
      const longer = new Uint32Array(2 * place);
      longer.set(this.#order);
      this.#order = longer;
    }
    for (; this.#known <= place; this.#known++) this.#order[this.#known] = this.#known;
  }
}
