import { styleNames, type Tier, tiers, workStages } from "@keyside/core";
import { nearestName, ownName, rateFrom, suggestion } from "@keyside/core/internal";
import { InvalidArgumentError, Option } from "commander";
import { noPlugins, type Plugins } from "../base/plugins/plugins.ts";
import { formatNames } from "../present/report/formats.ts";
import { audiences } from "../present/text/review.ts";

/** Options that several commands have; each refuses a wrong value with the nearest right one. */

export function rateOption(what: string): Option {
  return new Option("--rate <FPS>", what).argParser((text: string) => {
    const rate = rateFrom(text);
    if (rate === null)
      throw new InvalidArgumentError('A rate is a number above 0, or a fraction such as "24000/1001".');
    return rate;
  });
}

/** @param all what `all` does; null where it means nothing */
export function animationOption(all: string | null = "all judges each as a shot of its own"): Option {
  const what = "which animation of files that hold several, by its name or its number from 0";
  return new Option("--animation <NAME>", `${what}${all === null ? "" : `; ${all}`}; the first if left out`);
}

export function styleOption(): Option {
  const names = styleNames.join(", ");
  return new Option(
    "--style <NAME>",
    `style of animation, which moves thresholds together (${names}, or one of the configuration's own)`,
  );
}

export function stageOption(): Option {
  return choice(
    "--stage <NAME>",
    "stage of work by which the shot is judged, whatever it declares",
    workStages,
  );
}

export function tierOption(flags: string, what: string): Option {
  return choice<Tier>(flags, what, tiers);
}

export function formatOption(): Option {
  return choice("--format <NAME>", "format of the output", ["text", "json"]).default("text");
}

/** Format of a report. */
export function reportFormatOption({ reports, problem }: Plugins = noPlugins): Option {
  const names = [...formatNames, ...Object.keys(reports)];
  return choice<string>("--format <NAME>", "format of the report", names, problem).default("text");
}

/** Where the pages of the docs can be read, for reports that lead to them. */
export function docsAtOption(): Option {
  return new Option(
    "--docs-at <URI>",
    "in sarif, where the folder docs of this project can be read, so that its rules lead there",
  ).argParser((text: string) => {
    if (URL.canParse(text)) return text;
    throw new InvalidArgumentError('It is an absolute URI, such as "file:///srv/keyside/docs".');
  });
}

/** An option that takes a number above 0. */
export function numberOption(flags: string, what: string, kind: "whole" | "any"): Option {
  return new Option(flags, what).argParser((text: string) => {
    const value = Number(text);
    if (
      text.trim() !== "" &&
      value > 0 &&
      Number.isFinite(value) &&
      (kind === "any" || Number.isInteger(value))
    )
      return value;
    throw new InvalidArgumentError(`It is a ${kind === "whole" ? "whole " : ""}number above 0.`);
  });
}

/**
 * An option that takes one of some words.
 * @param unloaded why there may be more words than are known
 */
export function choice<T extends string>(
  flags: string,
  what: string,
  words: readonly T[],
  unloaded: Plugins["problem"] = null,
): Option {
  return new Option(flags, `${what} (${words.join(", ")})`).argParser((text: string) => {
    if ((words as readonly string[]).includes(text)) return text;
    const hint =
      unloaded === null ? suggestion(text, words) : ` Plug-ins are missing: ${toldProblem(unloaded)}`;
    throw new InvalidArgumentError(`It is one of ${words.join(", ")}.${hint}`);
  });
}

/** The checks that a run is limited to. */
export function onlyOption(plugins: Plugins): Option {
  const what = `run only these checks; can be repeated, or take a list with commas; ${ownName} for the studio's own`;
  return checksOption("--only <CHECK>", what, plugins, [ownName]);
}

/** The checks that a run leaves out. */
export function skipOption(plugins: Plugins): Option {
  const what = `leave these checks out; can be repeated, or take a list with commas; ${ownName} for the studio's own`;
  return checksOption("--skip <CHECK>", what, plugins, [ownName]);
}

/**
 * Names of checks, given one by one or with commas between.
 * @param others names that are taken besides
 */
export function checksOption(
  flags: string,
  what: string,
  plugins: Plugins,
  others: readonly string[] = [],
): Option {
  const names = [...plugins.registry.map((check) => check.name), ...others];
  return new Option(flags, what).argParser((text: string, before: readonly string[] | undefined) => {
    const chosen = text
      .split(",")
      .map((name) => name.trim())
      .filter((name) => name !== "");
    if (chosen.length === 0) throw new InvalidArgumentError("Name at least one check.");
    for (const name of chosen) {
      if (!names.includes(name)) throw new InvalidArgumentError(noCheck(name, names, plugins));
    }
    return [...(before ?? []), ...chosen];
  });
}

/** Says that there is no check of a name, and which is near. */
export function noCheck(name: string, names: readonly string[], { problem }: Plugins): string {
  if (problem !== null) return `There is no check "${name}". Plug-ins are missing: ${toldProblem(problem)}`;
  const hint = nearestName(name, names) === null ? " keyside explain lists them." : suggestion(name, names);
  return `There is no check "${name}".${hint}`;
}

function toldProblem({ file, message }: NonNullable<Plugins["problem"]>): string {
  return `${file}: ${message}`;
}

/** For whom what is written is meant. */
export function audienceOption(): Option {
  return choice(
    "--for <WHO>",
    "leave out what a reviewer dropped (animator), or show it apart (supervisor)",
    audiences,
  );
}
