// Game pads: the first is the first child's, the second the second's. The four buttons under the
// right thumb are the four presses, in their order.

/** Places of the four buttons in the standard mapping: bottom, right, left, top. */
export const PAD_BUTTONS = 4;
const PADS = 2;

export class Pads {
  readonly #held: boolean[][] = Array.from({ length: PADS }, () => Array.from({ length: PAD_BUTTONS }, () => false));

  constructor(private readonly press: (child: number, choice: number, down: boolean) => void) {}

  /** Once a frame. */
  poll(): void {
    let child = 0;
    for (const pad of navigator.getGamepads()) {
      if (pad === null || !pad.connected) continue;
      if (child === PADS) return;
      const held = this.#held[child] ?? [];
      for (let button = 0; button < PAD_BUTTONS; button++) {
        const down = pad.buttons[button]?.pressed === true;
        if (down === held[button]) continue;
        held[button] = down;
        this.press(child, button, down);
      }
      child += 1;
    }
    // A pad that was pulled out lets go.
    for (; child < PADS; child++) {
      const held = this.#held[child] ?? [];
      held.forEach((down, button) => {
        if (!down) return;
        held[button] = false;
        this.press(child, button, false);
      });
    }
  }
}
