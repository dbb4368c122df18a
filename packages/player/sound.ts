/** A sound that is farther off than this, in seconds, is set right: less is not heard. */
const mostDrift = 0.1;

/** The shot's sound, in time with what is shown. */
export class Sound {
  private readonly audio: HTMLAudioElement;

  /** @param fail called with what is wrong, in words */
  constructor(address: string, fail: (words: string) => void) {
    this.audio = new Audio();
    this.audio.preload = "auto";
    this.audio.addEventListener("error", () => fail(`Its sound (${address}) cannot be played.`));
    this.audio.src = address;
  }

  /** Plays on, or from here. @param seconds into the sound @param speed times its own */
  keep(seconds: number, speed: number): void {
    const { audio } = this;
    if (seconds < 0 || seconds >= audio.duration) {
      audio.pause();
      return;
    }
    audio.playbackRate = speed;
    if (audio.paused || Math.abs(audio.currentTime - seconds) > mostDrift * Math.max(1, speed)) {
      audio.currentTime = seconds;
    }
    // Whoever has not touched the page hears nothing: browsers refuse it, and the picture plays on.
    if (audio.paused) audio.play().catch(() => {});
  }

  stop(): void {
    this.audio.pause();
  }
}
