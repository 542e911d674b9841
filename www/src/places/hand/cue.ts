// The sign also to be heard and felt, for who wants it: both are off until asked for.

export class Cue {
  sound = false;
  buzz = false;
  #audio: AudioContext | undefined;

  /** On a press: browsers make no sound before one. */
  ready(): void {
    if (!this.sound) return;
    try {
      this.#audio ??= new AudioContext();
      void this.#audio.resume();
    } catch {
      // No sound here; the sign is seen.
      this.#audio = undefined;
    }
  }

  give(): void {
    if (this.buzz) navigator.vibrate?.(40);
    const audio = this.#audio;
    if (!this.sound || audio === undefined) return;
    const tone = audio.createOscillator();
    const loudness = audio.createGain();
    tone.frequency.value = 660;
    loudness.gain.setValueAtTime(0.2, audio.currentTime);
    loudness.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + 0.12);
    tone.connect(loudness).connect(audio.destination);
    tone.start();
    tone.stop(audio.currentTime + 0.13);
  }
}

/** Whether this browser can make the device vibrate. */
export const canBuzz = (): boolean => typeof navigator.vibrate === 'function';
