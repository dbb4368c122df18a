import { hash } from "node:crypto";
import { type BigIntStats, statSync } from "node:fs";
import { defaultBudget } from "../../base/budget.ts";
import { type Files, threadFiles } from "../../base/files/read.ts";
import { ResultCache } from "./cache.ts";
import { contentOfTask } from "./judge-task.ts";
import type { CachePlace, Judgement, Judges, JudgesOptions, ShotTask } from "./judges.ts";
import { ResultIndex } from "./result-index.ts";
import { isStoredShot } from "./stored-shot.ts";
import type { Trust } from "./trust.ts";

/** A file that has been changed within so many milliseconds may change again without its times telling. */
const tooNew = 2000;

/** Bytes of the largest file that is read and hashed in this thread. */
const largestHere = 64_000_000;

const noState = new Uint8Array(16);

export interface IndexedOptions {
  readonly options: JudgesOptions;
  readonly place: CachePlace;
  readonly trust: Trust;
  /** Starts whoever judges; at the first shot that is not known. */
  readonly start: () => Promise<Judges>;
  /** Told of each index file that is damaged. */
  readonly onDamage: (path: string) => void;
  /** Told at the end why results could not be kept. */
  readonly onUnkept: (reason: string) => void;
  /** Milliseconds since 1970; those of the system if left out. */
  readonly now?: () => number;
}

/**
 * Judges that know what is unchanged: results of earlier runs lie in an index, which this thread reads; only other shots
 * are handed on. Shots whose files may name others are handed on always: what these hold tells the adapter alone, whose
 * work is bounded elsewhere.
 */
export function indexedJudges(
  { options, place, trust, start, onDamage, onUnkept, now = Date.now }: IndexedOptions,
  files: Files = threadFiles,
): Judges {
  const index = new ResultIndex(place, onDamage);
  const cache = new ResultCache(place);
  const { budget = defaultBudget } = options;
  let judges: Promise<Judges> | null = null;
  const handOn = async (task: ShotTask) => {
    judges ??= start();
    return (await judges).judge(task);
  };
  const keep = (at: Place, key: string, packed: Uint8Array) => {
    if (!index.knows(at.place, at.state, key)) index.add({ ...at, key }, packed);
  };
  const knownAt = async (task: ShotTask, at: Place): Promise<Judgement | null> => {
    if (trust === "stat" && !isZero(at.state)) {
      const known = index.inState(at.place, at.state);
      if (known !== null && isStoredShot(known.text)) return unchanged(known.text);
    }
    if (!index.mayKnow(at.fileSize)) return null;
    const content = await contentOfTask(task, { files, budget });
    const key = cache.keyOf(task, content);
    const known = index.result(key);
    if (known === null || !isStoredShot(known.text)) return null;
    keep(at, key, known.packed);
    return unchanged(known.text);
  };
  return {
    count: options.count,
    async judge(task) {
      const at = task.mayNeed === true ? null : placeOf(task, place.stamp, now());
      if (at === null || at.fileSize > Math.min(largestHere, budget.file)) return handOn(task);
      // What goes wrong here goes wrong there too, where it is told as it should be.
      const known = await knownAt(task, at).catch(() => null);
      if (known !== null) return known;
      const judgement = await handOn({ ...task, isIndexed: true });
      if (judgement.kind === "shot" && judgement.packed != null)
        keep(at, judgement.packed.key, judgement.packed.bytes);
      return judgement;
    },
    async close() {
      await (await judges)?.close();
      index.close();
      if (index.unkept !== null) onUnkept(index.unkept);
    },
  };
}

function unchanged(stored: string): Judgement {
  return { kind: "shot", stored, isCached: true, unkept: null };
}

interface Place {
  readonly place: Uint8Array;
  /** Zeros where it tells nothing. */
  readonly state: Uint8Array;
  readonly fileSize: number;
}

/** Where a shot stands, and the state of its file and of the waivers and the review beside it; null where there is no file. */
function placeOf(
  { path, waivers, review, kind, settings }: ShotTask,
  stamp: string,
  now: number,
): Place | null {
  const shot = statOf(path);
  if (shot === null) return null;
  const beside = [waivers, review].map((one) => (one === undefined ? null : statOf(one)));
  const place = hash("sha256", JSON.stringify([stamp, kind, settings, path]), "buffer").subarray(0, 16);
  const newest = Math.max(...[shot, ...beside].flatMap((one) => (one === null ? [] : timesOf(one))));
  const told = [shot, ...beside].map((one) =>
    one === null ? "" : `${one.size} ${one.mtimeNs} ${one.ctimeNs} ${one.ino}`,
  );
  const isOld = now - newest > tooNew;
  const state = isOld ? hash("sha256", told.join("\n"), "buffer").subarray(0, 16) : noState;
  return { place, state, fileSize: Number(shot.size) };
}

function timesOf({ mtimeMs, ctimeMs }: BigIntStats): number[] {
  return [Number(mtimeMs), Number(ctimeMs)];
}

function statOf(path: string): BigIntStats | null {
  try {
    return statSync(path, { bigint: true, throwIfNoEntry: false }) ?? null;
  } catch {
    return null;
  }
}

function isZero(state: Uint8Array): boolean {
  return state.every((byte) => byte === 0);
}
