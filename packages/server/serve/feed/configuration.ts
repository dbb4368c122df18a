import { type Config, ConfigError, readConfig, registry, type Tier, tiers } from "@keyside/core";
import { z } from "zod";

/** What an editor's user has chosen under `keyside`. */
export interface EditorSettings {
  /** Choices that a configuration file goes before. */
  readonly config: Config;
  readonly lightestTier: Tier;
  readonly inlayHints: { readonly speed: boolean };
  /** URI of the folder that holds a page per check; null for the installed pages. */
  readonly checkPages: string | null;
}

export const defaultEditorSettings: EditorSettings = {
  config: {},
  lightestTier: "polish",
  inlayHints: { speed: false },
  checkPages: null,
};

const ownSettings = z.object({
  lightestTier: z.enum(tiers).nullish(),
  inlayHints: z.object({ speed: z.boolean().nullish() }).nullish(),
  checkPages: z.string().nullish(),
});

const shared = ["rate", "style", "stage", "tiers", "checks"] as const;

/**
 * Reads an editor's settings. What is wrong is said and left out; the rest holds.
 * @param say takes one sentence per fault
 */
export async function editorSettings(
  section: unknown,
  say: (fault: string) => void,
): Promise<EditorSettings> {
  if (section === null || section === undefined) return defaultEditorSettings;
  const own = ownSettings.safeParse(section);
  if (!own.success) {
    for (const { path, message } of own.error.issues) say(`keyside.${path.join(".")}: ${message}.`);
  }
  const { lightestTier, inlayHints, checkPages } = own.data ?? {};
  return {
    config: await configFrom(section, say),
    lightestTier: lightestTier ?? defaultEditorSettings.lightestTier,
    inlayHints: { speed: inlayHints?.speed ?? false },
    checkPages: checkPages == null ? null : `${checkPages.replace(/\/*$/, "")}/`,
  };
}

async function configFrom(section: unknown, say: (fault: string) => void): Promise<Config> {
  if (typeof section !== "object" || section === null) return defaultEditorSettings.config;
  const given = Object.entries(section).filter(
    ([name, value]) => (shared as readonly string[]).includes(name) && value !== null,
  );
  if (given.length === 0) return defaultEditorSettings.config;
  try {
    return await readConfig(registry, Object.fromEntries(given));
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    for (const { path, message } of error.problems) say(`keyside.${path}: ${message}`);
    return defaultEditorSettings.config;
  }
}
