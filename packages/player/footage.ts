import { secondsAt } from "./footage-place.ts";
import type { Motion } from "./motion.ts";
import { type Rendered, RenderedFrames } from "./rendered.ts";
import { Sound } from "./sound.ts";

/** The shot's own pictures and sound, where it has them. */
export class Footage {
  private readonly motion: Motion;
  private readonly frames: RenderedFrames | null;
  private readonly sound: Sound | null;

  /** @param draw called when a picture has come @param warn called with what is missing */
  constructor(motion: Motion, draw: () => void, warn: (words: string) => void) {
    const { images, sound } = motion;
    this.motion = motion;
    this.frames = images === undefined ? null : new RenderedFrames(images, draw);
    this.sound = sound === undefined ? null : new Sound(sound.address, warn);
  }

  /** What there is of a frame; null where nothing was rendered. */
  renderedAt(frame: number): Rendered | null {
    return this.frames?.at(frame, this.motion.frameStep) ?? null;
  }

  /** Keeps the sound in time with a frame that is played. @param speed times its own */
  hear(frame: number, speed: number): void {
    const { motion } = this;
    this.sound?.keep(secondsAt(motion, motion.sound?.from ?? motion.firstFrame, frame), speed);
  }

  silence(): void {
    this.sound?.stop();
  }
}
