import { readdir } from "node:fs/promises";
import { basename, dirname, relative, resolve } from "node:path";
import { UnreadableError, WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import type { SheetFootage } from "../present/sheet/page.ts";
import { uriReference } from "../present/text/uri.ts";
import { type FootageFiles, footageType } from "../serve/desk/footage.ts";

export interface FootageOptions {
  /** Names of the rendered frames, with # for the digits of their numbers. */
  readonly images?: string | undefined;
  readonly sound?: string | undefined;
  /** The page's file; the page goes to stdout if left out. */
  readonly out: string | undefined;
}

/**
 * The shot's rendered frames and its sound, as a page in the file `out` refers to them.
 * @param first the shot's first frame, with which the sound begins
 * @throws WrongUse @throws UnreadableError where there are none
 */
export async function footageOf(
  { images, sound, out }: FootageOptions,
  first: number,
  io: Pick<Io, "cwd" | "files">,
): Promise<SheetFootage> {
  const { cwd } = io;
  const from = out === undefined ? cwd : dirname(resolve(cwd, out));
  const addressOf = (path: string) => uriReference(relative(from, resolve(cwd, path)));
  if (sound !== undefined && (await io.files.kind(resolve(cwd, sound))) !== "file") {
    throw new UnreadableError(sound, "There is no such file; --sound names the shot's sound.");
  }
  return {
    ...(images === undefined ? {} : { images: await imagesOf(images, addressOf, cwd) }),
    ...(sound === undefined ? {} : { sound: { address: addressOf(sound), from: first } }),
  };
}

/**
 * The same as files, for whoever serves them.
 * @throws WrongUse for what browsers neither show nor play; else as {@link footageOf}
 */
export async function footageFilesOf(
  { images, sound }: Pick<FootageOptions, "images" | "sound">,
  first: number,
  io: Pick<Io, "cwd" | "files">,
): Promise<FootageFiles | null> {
  if (images === undefined && sound === undefined) return null;
  const found = await footageOf({ images, sound, out: undefined }, first, io);
  refuseKind("--images", images, "image");
  refuseKind("--sound", sound, "audio");
  const [before = "", after = ""] = images?.split(/#+/) ?? [];
  // A path's last part may be empty, which resolving would take away.
  const path = resolve(io.cwd, `${before}0`).slice(0, -1);
  return {
    ...(found.images === undefined ? {} : { images: { ...found.images, before: path, after } }),
    ...(sound === undefined ? {} : { sound: { path: resolve(io.cwd, sound), from: first } }),
  };
}

function refuseKind(option: string, file: string | undefined, kind: "image" | "audio"): void {
  if (file === undefined || footageType(file, kind) !== null) return;
  const known = kind === "image" ? "PNG, JPEG, WebP, AVIF and GIF" : "WAV, MP3, M4A, Ogg, Opus and FLAC";
  throw new WrongUse(`${option} "${file}" is of a kind that no browser takes; the desk has ${known}.`);
}

async function imagesOf(pattern: string, addressOf: (path: string) => string, cwd: string) {
  const [, before, marks, after] = /^([^#]*)(#+)([^#]*)$/.exec(pattern) ?? [];
  if (before === undefined || marks === undefined || after === undefined || /[/\\]/.test(after)) {
    throw new WrongUse(
      `--images "${pattern}" has to name a frame's file with one # for each digit of its number, such as renders/quay.####.png.`,
    );
  }
  const numbers = (await namesIn(dirname(resolve(cwd, `${before}0`)), pattern)).flatMap((name) => {
    const number = numberIn(name, basename(`${before}0`).slice(0, -1), after, marks.length);
    return number === null ? [] : [number];
  });
  if (numbers.length === 0) throw new UnreadableError(pattern, "No rendered frame has a name like this.");
  const first = numbers.reduce((a, b) => Math.min(a, b));
  const last = numbers.reduce((a, b) => Math.max(a, b));
  return {
    before: addressOf(`${before}0`).slice(0, -1),
    digits: marks.length,
    after: encodeURIComponent(after),
    first,
    last,
  };
}

async function namesIn(folder: string, pattern: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch {
    throw new UnreadableError(pattern, "The folder of the rendered frames cannot be read.");
  }
}

/** The number of a rendered frame by its file's name; null for the name of anything else. */
function numberIn(name: string, before: string, after: string, digits: number): number | null {
  if (!name.startsWith(before) || !name.endsWith(after)) return null;
  const text = name.slice(before.length, name.length - after.length);
  // A number that needs more digits than there are signs has no zeros before it.
  const isOne = /^\d+$/.test(text) && (text.length === digits || (text.length > digits && text[0] !== "0"));
  return isOne ? Number(text) : null;
}
