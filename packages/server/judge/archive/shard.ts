import { hash } from "node:crypto";
import { resolve } from "node:path";
import { openPlain, unbounded } from "../../base/files/plain.ts";
import type { Input } from "./inputs.ts";

/** One share of an archive: which one, counted from 1, of how many. */
export interface Shard {
  readonly index: number;
  readonly of: number;
}

/** A shard that cannot be; the message says why and what to write instead. */
export class ShardError extends Error {
  override readonly name = "ShardError";
}

export const shardKeys = ["content", "path"] as const;
/** By what shots are shared out. */
export type ShardKey = (typeof shardKeys)[number];

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The shard that is meant by "3/8", or by "auto" or "auto/8" inside an array job.
 * @throws ShardError
 */
export function shardOf(text: string, env: Environment): Shard {
  const written = /^(\d+)\/(\d+)$/.exec(text);
  if (written !== null) return checked(Number(written[1]), Number(written[2]), text);
  const auto = /^auto(?:\/(\d+))?$/.exec(text);
  if (auto === null) {
    throw new ShardError(`"${text}" is no shard: write 3/8 for the third of eight, or auto in an array job.`);
  }
  return fromScheduler(auto[1] === undefined ? null : Number(auto[1]), env);
}

function checked(index: number, of: number, shown: string): Shard {
  if (of < 1 || index < 1 || index > of) {
    throw new ShardError(`There is no shard ${shown}: shards are counted from 1/${of} to ${of}/${of}.`);
  }
  return { index, of };
}

/** Variables as their schedulers document them: Slurm's job arrays, Kubernetes' indexed jobs. */
function fromScheduler(count: number | null, env: Environment): Shard {
  const id = numberIn(env, "SLURM_ARRAY_TASK_ID");
  if (id !== null) {
    const first = numberIn(env, "SLURM_ARRAY_TASK_MIN") ?? 1;
    const step = numberIn(env, "SLURM_ARRAY_TASK_STEP") ?? 1;
    const of = numberIn(env, "SLURM_ARRAY_TASK_COUNT") ?? count;
    if (of === null) throw new ShardError("SLURM_ARRAY_TASK_COUNT is not set: write --shard auto/COUNT.");
    if (count !== null && count !== of) {
      throw new ShardError(
        `The array has ${of} tasks, not ${count}: leave the count out, or make them agree.`,
      );
    }
    const index = (id - first) / step + 1;
    if (!Number.isInteger(index) || index > of) {
      throw new ShardError(
        `Task ${id} of ${of} from ${first}: an array with gaps cannot be told from an array that has lost tasks; ` +
          `submit --array=1-${of}.`,
      );
    }
    return checked(index, of, `${index}/${of}`);
  }
  const completion = numberIn(env, "JOB_COMPLETION_INDEX");
  if (completion !== null) {
    if (count === null) {
      throw new ShardError(
        "An indexed job does not tell how many there are: write --shard auto/COMPLETIONS.",
      );
    }
    return checked(completion + 1, count, `${completion + 1}/${count}`);
  }
  throw new ShardError(
    "Neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX is set: auto is for array jobs; write --shard 1/8.",
  );
}

function numberIn(env: Environment, name: string): number | null {
  const text = env[name];
  if (text === undefined || text === "") return null;
  if (!/^\d+$/.test(text)) throw new ShardError(`${name} is "${text}", which is no number.`);
  return Number(text);
}

/** How many files are looked into at the same time. */
const atOnce = 32;

/**
 * The inputs that belong to a shard. Each belongs to exactly one, whatever other inputs there are.
 *
 * By content (default): a shot is in the same shard wherever it stands and whatever it is called, so that a shard's
 * machine finds its earlier results. The key is a digest of the size and of three samples of the file; looking at the
 * whole file would have every shard read the whole archive. By path: no file is opened at all.
 */
export async function inputsIn(
  shard: Shard,
  key: ShardKey,
  inputs: readonly Input[],
  cwd: string,
): Promise<Input[]> {
  const isIn = new Uint8Array(inputs.length);
  let next = 0;
  const look = async () => {
    for (let index = next++; index < inputs.length; index = next++) {
      const { file, problem } = inputs[index] as Input;
      const digest = key === "path" || problem !== null ? hash("sha1", file) : await sampled(file, cwd);
      isIn[index] = Number(Number.parseInt(digest.slice(0, 12), 16) % shard.of === shard.index - 1);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, look));
  return inputs.filter((_, index) => isIn[index] === 1);
}

const sampleSize = 4096;

/** A digest of a file's size and of its beginning, middle and end; of its name where it cannot be read. */
async function sampled(file: string, cwd: string): Promise<string> {
  try {
    const handle = await openPlain(resolve(cwd, file), unbounded);
    try {
      const { size } = await handle.stat();
      const sample = new Uint8Array(3 * sampleSize);
      let length = 0;
      for (const at of [0, (size >> 1) - (sampleSize >> 1), size - sampleSize]) {
        length += (await handle.read(sample, length, sampleSize, Math.max(0, at))).bytesRead;
      }
      return hash("sha1", Buffer.concat([Buffer.from(`${size}\n`), sample.subarray(0, length)]));
    } finally {
      await handle.close();
    }
  } catch {
    return hash("sha1", file);
  }
}
