import { mutated } from "./mutate.mjs";
import { randomFrom } from "./random.mjs";

/**
 * Tries inputs on targets, one after the other.
 * @param targets functions by name; each throws where something does not hold
 * @param seeds real inputs by the same names
 * @param goOn asked before each input, with how many there were
 * @returns how many inputs were tried on each target, and what was found
 */
export async function fuzz(targets, seeds, seed, goOn) {
  const random = randomFrom(seed);
  const names = Object.keys(targets);
  const all = Object.values(seeds).flat();
  const counts = Object.fromEntries(names.map((name) => [name, 0]));
  const finds = [];
  for (let count = 0; goOn(count); count++) {
    const name = names[count % names.length];
    const text = mutated(random.of(seeds[name]), random, all);
    counts[name]++;
    const start = process.cpuUsage();
    let what = null;
    try {
      const result = targets[name](text);
      if (result instanceof Promise) await result;
    } catch (error) {
      what = error instanceof Error ? (error.stack ?? error.message) : String(error);
    }
    const { user } = process.cpuUsage(start);
    if (what === null && user > slow) what = `It took ${Math.round(user / 1000)} ms.`;
    if (what !== null) finds.push({ name, text, what });
  }
  return { counts, finds };
}

/** Microseconds of processor time that no small input takes. */
const slow = 5_000_000;
