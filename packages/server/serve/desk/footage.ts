import { extname } from "node:path";
import type { Motion } from "@keyside/player/motion";

/** A shot's own rendered frames and sound, as they are on disk. */
export interface FootageFiles {
  /** What stands before and behind a frame's number in the path of its file. */
  readonly images?:
    | (Pick<NonNullable<Motion["images"]>, "digits" | "first" | "last"> & {
        readonly before: string;
        readonly after: string;
      })
    | undefined;
  readonly sound?: { readonly path: string; readonly from: number } | undefined;
}

/** What browsers show and play, by the ending of a file's name. */
const types: Readonly<Record<string, string>> = {
  ".png": "image/png",
  ".jpg": "image/jpeg",
  ".jpeg": "image/jpeg",
  ".webp": "image/webp",
  ".avif": "image/avif",
  ".gif": "image/gif",
  ".wav": "audio/wav",
  ".mp3": "audio/mpeg",
  ".m4a": "audio/mp4",
  ".ogg": "audio/ogg",
  ".opus": "audio/ogg",
  ".flac": "audio/flac",
};

/** The type of a picture or a sound that browsers know; null for any other file. */
export function footageType(path: string, kind: "image" | "audio"): string | null {
  const type = types[extname(path).toLowerCase()];
  return type?.startsWith(kind) ? type : null;
}

/**
 * Pictures and sound under addresses of the desk. Elements of a page cannot show a token, so that the addresses
 * themselves cannot be guessed: who knows them was told over the link.
 */
export class Footage {
  private readonly files: FootageFiles;
  private readonly place: string;

  /** @param key a word that nobody can guess */
  constructor(files: FootageFiles, key: string) {
    this.files = files;
    this.place = `/footage/${key}/`;
  }

  /** What the player is told. */
  get motion(): Pick<Motion, "images" | "sound"> {
    const { images, sound } = this.files;
    const { place } = this;
    return {
      ...(images === undefined
        ? {}
        : {
            images: {
              before: `${place}frame.`,
              digits: images.digits,
              after: "",
              first: images.first,
              last: images.last,
            },
          }),
      ...(sound === undefined ? {} : { sound: { address: `${place}sound`, from: sound.from } }),
    };
  }

  /** The file at an address; null for none. */
  fileAt(address: string): { readonly path: string; readonly type: string } | null {
    const { images, sound } = this.files;
    if (!address.startsWith(this.place)) return null;
    const name = address.slice(this.place.length);
    if (sound !== undefined && name === "sound") {
      return typed(sound.path, "audio");
    }
    const [, number] = /^frame\.(\d{1,15})$/.exec(name) ?? [];
    if (images === undefined || number === undefined) return null;
    const frame = Number(number);
    if (frame < images.first || frame > images.last) return null;
    return typed(`${images.before}${String(frame).padStart(images.digits, "0")}${images.after}`, "image");
  }
}

function typed(path: string, kind: "image" | "audio") {
  const type = footageType(path, kind);
  return type === null ? null : { path, type };
}
