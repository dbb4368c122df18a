import { dirname, resolve } from "node:path";
import { type Config, type Overrides, resolveSettings } from "@keyside/core";
import { type Io, pluginsOf } from "../base/io.ts";
import type { Input } from "../judge/archive/inputs.ts";
import type { PictureOf } from "../present/report/writer-options.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";

export interface PicturesOptions {
  readonly configFor: (folder: string) => Promise<{ readonly config: Config }>;
  readonly overrides: Overrides;
  readonly limits: RawLimits;
  readonly signal: AbortSignal;
}

/** Draws shots of a run: each is read and judged again, within the run's limits. What cannot be drawn has no picture. */
export function picturesFor(inputs: readonly Input[], options: PicturesOptions, io: Io): PictureOf {
  const { configFor, overrides, limits, signal } = options;
  const byFile = new Map(inputs.map((input) => [input.file, input]));
  return async ({ file }, fingerprint) => {
    const input = byFile.get(file);
    if (input === undefined || signal.aborted) return null;
    const path = input.path ?? file;
    const [{ loadShot }, { judgeVersion }, { shotPicture }] = await Promise.all([
      import("../judge/shots/load.ts"),
      import("../judge/shots/judged-version.ts"),
      import("../present/sheet/shot-picture.ts"),
    ]);
    try {
      const { config } = await configFor(dirname(resolve(io.cwd, path)));
      const settings = resolveSettings(pluginsOf(io).registry, config, overrides);
      const { guard, budget } = limitsFor(path, limits, usualTime.judging);
      const { rate } = settings;
      const loaded = await loadShot(path, {
        ...io,
        ...{ rate: rate ?? undefined, animation: input.animation, guard, budget, signal },
      });
      return guard(() => shotPicture(judgeVersion(loaded, settings), fingerprint));
    } catch {
      // The shot was judged, and its notes stand: whatever keeps it from being drawn (it has gone or changed since, it takes
      // more than it may) must not cost the report.
      return null;
    }
  };
}
