import { addressOf } from "./footage-place.ts";
import type { MotionImages } from "./motion.ts";

/** So many pictures are kept, and so many are fetched ahead of the one that is shown. */
const kept = 48;
const ahead = 8;

/** What there is of a frame: its picture, that it is being fetched, or that there is none. */
export type Rendered = HTMLImageElement | "coming" | "none";

/** The shot's rendered frames, fetched as they are shown. */
export class RenderedFrames {
  private readonly images: MotionImages;
  private readonly tell: () => void;
  /** By their addresses, the one that was used last at the end. */
  private readonly byAddress = new Map<string, HTMLImageElement>();
  private readonly missing = new Set<string>();

  /** @param tell called when a picture has come, or will not */
  constructor(images: MotionImages, tell: () => void) {
    this.images = images;
    this.tell = tell;
  }

  /** @param step frames between two that are played */
  at(frame: number, step: number): Rendered {
    for (let n = 1; n <= ahead; n++) this.ask(frame + n * step);
    const shown = this.ask(frame);
    if (shown === null) return "none";
    return shown.complete && shown.naturalWidth > 0 ? shown : "coming";
  }

  private ask(frame: number): HTMLImageElement | null {
    const address = addressOf(this.images, frame);
    if (address === null || this.missing.has(address)) return null;
    const known = this.byAddress.get(address);
    const image = known ?? new Image();
    this.byAddress.delete(address);
    this.byAddress.set(address, image);
    if (known !== undefined) return known;
    image.addEventListener("load", this.tell);
    image.addEventListener("error", () => {
      this.missing.add(address);
      this.byAddress.delete(address);
      this.tell();
    });
    image.src = address;
    for (const [oldest] of this.byAddress) {
      if (this.byAddress.size <= kept) break;
      this.byAddress.delete(oldest);
    }
    return image;
  }
}
