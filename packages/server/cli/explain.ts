import { type Check, families, type Setting } from "@keyside/core";
import { sentence, styleChanges, suggestion } from "@keyside/core/internal";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { checkOfRun, type Plugins } from "../base/plugins/plugins.ts";
import { cautionsFor } from "../present/text/cautions.ts";
import { metadataOf } from "../present/text/check-metadata.ts";
import { type Layout, painted, wrapped } from "../present/text/layout.ts";
import { layoutFor } from "./layout-for.ts";

/** `keyside explain`: the list of checks, or one check in full. */
export function explain(name: string | undefined, format: "text" | "json", io: Io): number {
  const layout = layoutFor(io);
  const plugins = pluginsOf(io);
  if (name === undefined) {
    io.stdout(format === "json" ? asJson(plugins.registry.map(metadataOf)) : listText(layout, plugins));
    if (plugins.problem !== null) throw plugins.problem;
    return exitCodes.clean;
  }
  const check = checkOfRun(plugins, name);
  if (check === undefined) {
    if (plugins.problem !== null) throw plugins.problem;
    const names = plugins.registry.map((other) => other.name);
    throw new WrongUse(
      `There is no check "${name}".${suggestion(name, names) || " keyside explain lists them."}`,
    );
  }
  io.stdout(
    format === "json" ? asJson(metadataOf(check)) : checkText(layout, check, plugins.origins.get(name)),
  );
  return exitCodes.clean;
}

function asJson(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

function listText(layout: Layout, { registry }: Plugins): string {
  const widest = Math.max(...registry.map(({ name }) => name.length));
  const lines: string[] = [];
  for (const family of families) {
    const checks = registry.filter((check) => check.family === family);
    if (checks.length === 0) continue;
    lines.push(painted(layout, "bold", family));
    for (const { name, what, ripening } of checks) {
      const told = ripening === undefined ? what : `${what} It ripens: it runs where it is named.`;
      lines.push(wrapped(layout, told, " ".repeat(widest + 4), `  ${name.padEnd(widest)}  `));
    }
    lines.push("");
  }
  lines.push("keyside explain CHECK tells all about one.");
  return `${lines.join("\n")}\n`;
}

function checkText(layout: Layout, check: Check, origin: string | undefined): string {
  const section = (title: string, ...lines: readonly string[]) =>
    lines.length === 0 ? [] : ["", painted(layout, "bold", title), ...lines];
  const paragraph = (text: string) => wrapped(layout, text, "  ");
  const points = (texts: readonly string[]) => texts.map((text) => wrapped(layout, text, "    ", "  - "));
  return `${[
    `${painted(layout, "bold", check.name)}: ${check.title} (${check.family}, at most ${check.ceiling})`,
    ...section("Finds", paragraph(check.what)),
    ...section("Ripens", ...(check.ripening === undefined ? [] : [paragraph(ripensText(check.ripening))])),
    ...section(
      "Waits",
      ...(check.notBefore === undefined
        ? []
        : [paragraph(`It is looked for from ${check.notBefore} on: earlier it is still to come.`)]),
    ),
    ...section("Why it matters", paragraph(check.why)),
    ...section("Computes", paragraph(check.computes)),
    ...section("Fix", paragraph(check.fix)),
    ...section("Not a fault", ...points(check.notAFault)),
    ...section("Limits", ...points(check.limits)),
    ...section(
      "Settings",
      ...Object.entries(check.settings).flatMap((entry) => settingText(layout, ...entry)),
    ),
    ...section("Styles", ...points(styleChanges(check))),
    ...section("Sources", ...points(check.sources)),
    ...section("Plug-in", ...(origin === undefined ? [] : [paragraph(`It comes from ${origin}.`)])),
    ...section("Caution", ...cautionsFor([check]).map(paragraph)),
  ].join("\n")}\n`;
}

/** What it means that a check ripens. */
const ripensText = (why: string) => `It runs only where a configuration or --only names it: ${sentence(why)}`;

function settingText(layout: Layout, name: string, setting: Setting): string[] {
  const { min, max, unit } = setting;
  const bounds = [
    ...(min === undefined ? [] : [`at least ${min}`]),
    ...(max === undefined ? [] : [`at most ${max}`]),
  ];
  const value = `${setting.default} ${unit}${bounds.length === 0 ? "" : ` (${bounds.join(", ")})`}`;
  return [
    `  ${painted(layout, "bold", name)}  ${value}`,
    wrapped(layout, `${sentence(setting.what)} ${sentence(`source: ${setting.source}`)}`, "      "),
  ];
}
