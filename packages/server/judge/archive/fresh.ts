import { type Config, type Overrides, type ResolvedSettings, registry, resolveSettings } from "@keyside/core";
import type { Files } from "../../base/files/read.ts";
import { judge } from "../shots/judge.ts";
import { loadShot } from "../shots/load.ts";
import type { ShotTask, StoredShot } from "./judges.ts";

/** From what settings are put together. */
export interface SettingsSource {
  readonly config: Config;
  readonly overrides: Overrides;
}

/** What came of judging a shot anew. */
export interface FreshResult {
  /** A {@link StoredShot} as JSON. */
  readonly stored: string;
  /** Whether every check that is on has come to its end. */
  readonly isWhole: boolean;
}

const resolved = new Map<string, ResolvedSettings>();

/** The settings of a task; each text is put together once. */
function settingsOf(text: string): ResolvedSettings {
  let settings = resolved.get(text);
  if (settings === undefined) {
    const { config, overrides } = JSON.parse(text) as SettingsSource;
    settings = resolveSettings(registry, config, overrides);
    resolved.set(text, settings);
  }
  return settings;
}

/**
 * Reads and judges a shot anew.
 * @param waivers text of the file of waivers beside it, "" where there is none
 * @throws UnreadableError where nothing in it can be judged
 */
export async function judgeFresh(
  task: ShotTask,
  bytes: Uint8Array,
  waivers: string,
  files: Files,
): Promise<FreshResult> {
  const settings = settingsOf(task.settings);
  // Capture is taken over at the judged rate, so that its first frame is 1 there and its keys are what is seen.
  const rate = settings.rate ?? undefined;
  const loaded = await loadShot(task.file, {
    cwd: "/",
    rate,
    waivers,
    files: { ...files, read: async () => bytes },
  });
  const { file: _, name, ...rest } = judge(loaded, settings);
  const stored: StoredShot = { name: loaded.shot.header.shot.name === undefined ? null : name, ...rest };
  return { stored: JSON.stringify(stored), isWhole: stored.failures === undefined };
}
