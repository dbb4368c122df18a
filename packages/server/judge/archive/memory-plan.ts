import { roomOfMachine } from "../../base/limits.ts";

/*
 * What threads take, as measured over an archive of shots of 60 nodes and 240 frames (`npm run bench:archive` prints the
 * peaks); what a shot takes beyond is its own, and bounded by --memory-limit.
 */

/** Bytes of the program without workers, and of a worker without its young generation. */
const programSize = 130_000_000;
const workerSize = 110_000_000;

/**
 * Megabytes of a worker's young generation: what is computed for a shot should die in it, and not be moved on. With 32 a
 * worker takes no more processor time than with 64 and 35 MB less; with 16 it takes a twentieth more, with 8 a tenth.
 */
const [leastYoung, mostYoung] = [4, 32];

/** How a run uses memory. */
export interface MemoryPlan {
  readonly workers: number;
  /** Megabytes that the young generation of each worker may take. */
  readonly young: number;
}

/** Bytes that a run may take where nothing is chosen: half of what the machine, or the container, has. */
export function memoryForRun(): number {
  return Math.floor(0.5 * roomOfMachine());
}

/**
 * How many workers a run has, and how much memory each may spend on working quicker. Results do not hang on it.
 * @param memory bytes that the run may take
 * @param wanted workers there is work and there are cores for, or that were asked for by number
 * @param isAsked whether they were asked for by number: so many there are, then
 */
export function memoryPlan(memory: number, wanted: number, isAsked: boolean): MemoryPlan {
  const room = memory - programSize;
  const fitting = Math.max(1, Math.floor(room / (workerSize + leastYoung * 2 ** 20)));
  const workers = isAsked ? wanted : Math.min(wanted, fitting);
  const left = (room / workers - workerSize) / 2 ** 20;
  return { workers, young: Math.floor(Math.max(leastYoung, Math.min(mostYoung, left))) };
}
