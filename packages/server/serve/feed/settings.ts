import { type CheckChoice, type Config, type ResolvedSettings, resolveSettings } from "@keyside/core";
import { ConfigFinder } from "../../base/config-file.ts";
import type { Files } from "../../base/files/read.ts";
import { noPlugins, type Plugins } from "../../base/plugins/plugins.ts";

/** Finds what is in force for shots. */
export interface SettingsLoader {
  /**
   * Settings for the shots of a folder: the nearest configuration file goes before what the editor or the host tool
   * has chosen, which goes before the defaults.
   * @param folder null for shots that stand in no folder
   * @throws UnreadableError for a configuration file that cannot be used, ConfigError where the choices do not fit it
   */
  forFolder(folder: string | null, chosen?: Config): Promise<FolderSettings>;
  /** What plug-ins add, as they are now. */
  plugins(): Promise<Plugins>;
  /** Loads plug-ins and reads configuration files again when they are next needed. */
  forget(): void;
}

export interface FolderSettings {
  readonly settings: ResolvedSettings;
  /** The configuration file's folder, from which its patterns of ignored files count; null where there is none. */
  readonly folder: string | null;
  readonly ignore: readonly string[];
}

/**
 * Settings from configuration files.
 * @param load loads the plug-ins of this process; none if left out
 */
export function settingsFromFiles(
  files: Files,
  load: () => Promise<Plugins> = async () => noPlugins,
): SettingsLoader {
  let plugins: Promise<Plugins> | null = null;
  let finder: Promise<ConfigFinder> | null = null;
  const loaded = () => {
    plugins ??= load();
    return plugins;
  };
  const finding = () => {
    finder ??= loaded().then((found) => new ConfigFinder(files, found));
    return finder;
  };
  // One object per combination, so that settings that are the same are known as unchanged.
  let resolved = new WeakMap<Config, WeakMap<Config, ResolvedSettings>>();
  const none: Config = {};
  return {
    async forFolder(folder, chosen = none) {
      const found =
        folder === null ? { config: none, folder: null } : await (await finding()).forFolder(folder);
      const { registry } = await loaded();
      const byChoice = resolved.get(found.config) ?? new WeakMap<Config, ResolvedSettings>();
      resolved.set(found.config, byChoice);
      let settings = byChoice.get(chosen);
      if (settings === undefined) {
        settings = resolveSettings(registry, merged(chosen, found.config));
        byChoice.set(chosen, settings);
      }
      return { settings, folder: found.folder, ignore: found.config.ignore ?? [] };
    },
    plugins: loaded,
    forget() {
      plugins = null;
      finder = null;
      resolved = new WeakMap();
    },
  };
}

/** Two configurations as one; the second goes before the first, setting by setting. */
function merged(under: Config, over: Config): Config {
  const checks: Record<string, CheckChoice> = { ...under.checks };
  for (const [name, choice] of Object.entries(over.checks ?? {})) {
    const below = checks[name];
    checks[name] = { ...below, ...choice, values: { ...below?.values, ...choice.values } };
  }
  return { ...under, ...over, tiers: { ...under.tiers, ...over.tiers }, checks };
}
