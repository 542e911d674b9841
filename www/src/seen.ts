// When the robot is seen: what the first moment does not need is loaded after it.

let resolve: () => void = () => {};

/** Settles with the first frames painted; never if none are. */
export const robotSeen = new Promise<void>((settle) => {
  resolve = settle;
});

/** To be called by what paints. */
export function tellSeen(): void {
  resolve();
}
