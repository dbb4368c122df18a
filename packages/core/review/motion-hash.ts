import type { Shot } from "../document/model.ts";
import type { ReviewVersion } from "./schema.ts";

/**
 * A fingerprint of what moves in a shot: its rate and range, its nodes and the keys of its curves. Waivers, cameras and
 * how the file is laid out do not change it.
 * @param shot any shot
 * @returns 16 hexadecimal digits
 */
export function motionHashOf(shot: Shot): string {
  const hash = new Hash();
  hash.add(shot.frameRate.numerator, shot.frameRate.denominator, ...shot.range);
  hash.say(JSON.stringify(shot.header.nodes));
  hash.say(JSON.stringify(shot.header.space ?? {}));
  for (const { node, channel, interpolation, frames, values, modes, handles } of shot.curves) {
    hash.say(`${node} ${channel} ${interpolation}`);
    hash.series(frames);
    hash.series(values);
    hash.series(modes);
    hash.series(handles ?? []);
  }
  return hash.text();
}

/**
 * The version of a shot, as remarks name it.
 * @param shot the shot that is looked at
 * @param file name of its file, without a folder
 * @returns file, revision where the shot says one, and fingerprint
 */
export function reviewVersionOf(shot: Shot, file?: string): ReviewVersion {
  const { revision } = shot.header.shot;
  return {
    ...(file === undefined ? {} : { file }),
    ...(revision === undefined ? {} : { revision }),
    hash: motionHashOf(shot),
  };
}

/** FNV-1a over words of 32 bits, in two halves that start apart, as in `fingerprintOf`; no cryptography is needed. */
class Hash {
  private low = 0x811c9dc5;
  private high = 0xcbf29ce4;
  private readonly number = new Float64Array(1);
  private readonly words = new Uint32Array(this.number.buffer);

  series(numbers: ArrayLike<number>): void {
    this.word(numbers.length);
    for (let i = 0; i < numbers.length; i++) this.one(numbers[i]);
  }

  add(...numbers: readonly number[]): void {
    this.series(numbers);
  }

  say(text: string): void {
    this.word(text.length);
    for (let i = 0; i < text.length; i++) this.word(text.charCodeAt(i));
  }

  text(): string {
    return [this.high, this.low].map((half) => (half >>> 0).toString(16).padStart(8, "0")).join("");
  }

  private one(number: number): void {
    // NaN has many forms, and stands for a handle that is left out; −0 is 0.
    this.number[0] = Number.isNaN(number) ? 0.1234567 : number + 0;
    this.word(this.words[0]);
    this.word(this.words[1]);
  }

  private word(word: number): void {
    this.low = Math.imul(this.low ^ word, 0x01000193);
    this.low ^= this.low >>> 15;
    this.high = Math.imul(this.high ^ (word + this.low), 0x01000193) ^ (this.low >>> 13);
  }
}
