import { readFileSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";

/**
 * Bytes of code that a function runs through before the engine optimises it. Its own limit, 67,584 in V8 11, makes a
 * short run optimise hundreds of functions that it is nearly done with: with this one `keyside check` of a small shot
 * takes three quarters of the processor time, that of shots of half a second and of a second no more than before. 1 and 2
 * million gave no more. The limit goes into the stamp by which the engine knows its kept code, so that it has to be the
 * same where that is made. Other engines, with which nobody has measured it, keep their own.
 */
const optimiseAfter = "--interrupt-budget=500000";
const measuredEngine = "11.";

/**
 * The command as one file with the code that the engine made of it, which the build writes (`bundle.mjs`). Loading some
 * 500 modules and compiling them takes most of a short run. Null where there is no bundle, or an older one than the modules.
 * @param dist folder of the modules, as a URL with a slash at its end
 */
export function loadBundle(dist: string): unknown {
  const folder = fileURLToPath(dist);
  const filename = join(folder, "bundle", "command.cjs");
  let source: string;
  let cachedData: Buffer | undefined;
  try {
    const made = statSync(filename).mtimeMs;
    const packages = dirname(dirname(folder.replace(/[/\\]$/, "")));
    for (const name of ["core", "adapters", "player", "desk", "server"]) {
      const built = statSync(join(packages, name, "dist", ".tsbuildinfo"), { throwIfNoEntry: false });
      if (built !== undefined && built.mtimeMs > made) return null;
    }
    // The build writes nothing but ASCII, and a text of single bytes is taken as it is.
    source = readFileSync(filename, "latin1");
    cachedData = readFileSync(`${filename}.cache`);
  } catch {
    // Without the engine's code it runs all the same; without the source the modules do.
    if (source! === undefined) return null;
  }
  return bundleFrom({ source, filename, dist, cachedData }).exports;
}

export interface BundleSource {
  readonly source: string;
  readonly filename: string;
  /** Folder of the modules that the bundle was made of, as a URL. */
  readonly dist: string;
  /** What an engine of this version made of the source; of another it is not taken. */
  readonly cachedData?: Buffer | undefined;
}

/** Runs a bundle. Gives what it exports, and the script, of which the engine's code can be kept. */
export function bundleFrom({ source, filename, dist, cachedData }: BundleSource): {
  readonly exports: unknown;
  readonly script: Script;
} {
  if (process.versions.v8.startsWith(measuredEngine)) setFlagsFromString(optimiseAfter);
  const script = new Script(source, {
    filename,
    ...(cachedData === undefined ? {} : { cachedData }),
  });
  const module = { exports: {} as unknown };
  const urlOf = (path: string) => new URL(path, dist).href;
  const importHere = (url: string) => import(url);
  const start = script.runInThisContext() as (...given: unknown[]) => void;
  start(module, module.exports, createRequire(filename), urlOf, importHere);
  return { exports: module.exports, script };
}
