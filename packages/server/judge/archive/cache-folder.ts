import { isAbsolute, join } from "node:path";

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The user's folder for what can be made again: $XDG_CACHE_HOME or ~/.cache (XDG Base Directory Specification, which
 * has relative paths ignored), ~/Library/Caches on macOS, %LOCALAPPDATA% on Windows. Null where there is none.
 */
export function defaultCacheFolder(
  env: Environment,
  platform: NodeJS.Platform = process.platform,
): string | null {
  if (platform === "win32") {
    const local = env["LOCALAPPDATA"];
    return local === undefined || local === "" ? null : join(local, "keyside", "cache");
  }
  const chosen = env["XDG_CACHE_HOME"];
  if (chosen !== undefined && isAbsolute(chosen)) return join(chosen, "keyside");
  const home = env["HOME"];
  if (home === undefined || !isAbsolute(home)) return null;
  return platform === "darwin" ? join(home, "Library", "Caches", "keyside") : join(home, ".cache", "keyside");
}
