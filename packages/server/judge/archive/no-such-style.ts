import type { Config } from "@keyside/core";

/**
 * Says that there is no style of the name that a run gives, where a configuration has none either; null where there is.
 * The core is loaded only for a run that names a style.
 */
export async function noSuchStyle(style: string | undefined, config: Config): Promise<string | null> {
  if (style === undefined) return null;
  const { chainOf } = await import("@keyside/core/internal");
  const chain = chainOf(style, config.styles ?? {});
  return typeof chain === "string" ? `--style: ${chain}` : null;
}
