import { type Adapter, adapters } from "@keyside/adapters";
import * as keyside from "@keyside/core";
import { foreignCheck, foreignCheckFaults, suggestion } from "@keyside/core/internal";
import { reasonOf, UnreadableError } from "../errors.ts";
import { adapterFaults, foreignAdapter } from "./adapters.ts";
import { messageOf, placeIn } from "./blame.ts";
import { importFresh } from "./import-fresh.ts";
import { filesOfModules } from "./module-files.ts";
import type { Plugins } from "./plugins.ts";

/** Modules that are to be loaded. */
export interface NamedModules {
  /** Absolute paths. */
  readonly modules: readonly string[];
  /** The same as the configuration writes them. */
  readonly written: readonly string[];
  /** The configuration, as an absolute path and as it is shown. */
  readonly configuration: string;
  readonly shown: string;
}

const members = ["checks", "adapters", "reports"];
const form = "export default (keyside) => ({ checks: […], adapters: […], reports: { … } })";

/**
 * Loads plug-ins: runs the code of their modules.
 * @param formats names of reports that are taken
 * @throws UnreadableError naming the configuration, the place in it, the module, and what is wrong with it
 */
export async function loadPlugins(named: NamedModules, formats: readonly string[]): Promise<Plugins> {
  const { modules, written, configuration, shown } = named;
  const loading = new Loading(formats);
  let files: ReturnType<typeof filesOfModules> = { files: [], digest: "" };
  for (const [index, path] of modules.entries()) {
    const fail = (what: string): never => {
      throw new UnreadableError(shown, `plugins.${index}: ${written[index]}: ${what}`);
    };
    try {
      files = filesOfModules(modules.slice(0, index + 1));
    } catch (error) {
      fail(`${reasonOf(error)} Paths count from the folder of the configuration.`);
    }
    const { digest } = filesOfModules([path]);
    loading.take(path, await partsOf(path, digest, fail), fail);
  }
  const { checks, reports, origins } = loading;
  return {
    ...{ registry: [...keyside.registry, ...checks], adapters: loading.adapters, reports, modules, origins },
    ...{ ...files, configuration, problem: null },
  };
}

type Fail = (what: string) => never;

/** What a module's default export gives. */
async function partsOf(path: string, digest: string, fail: Fail): Promise<Readonly<Record<string, unknown>>> {
  let made: unknown;
  try {
    made = (await importFresh(path, digest)).default;
  } catch (error) {
    return fail(`It cannot be loaded${placeIn(path, error)}: ${messageOf(error)}.`);
  }
  if (typeof made !== "function") return fail(`Its default export has to be a function: ${form}.`);
  try {
    made = await made(keyside);
  } catch (error) {
    return fail(`Its default export failed${placeIn(path, error)}: ${messageOf(error)}.`);
  }
  if (typeof made !== "object" || made === null || Array.isArray(made)) {
    return fail(`Its default export has to give an object: ${form}.`);
  }
  return made as Readonly<Record<string, unknown>>;
}

/** Takes what modules give, one after another. */
class Loading {
  readonly checks: keyside.Check[] = [];
  readonly adapters: Adapter[] = [];
  readonly reports: Record<string, unknown> = {};
  readonly origins = new Map<string, string>();
  private readonly formats: readonly string[];

  constructor(formats: readonly string[]) {
    this.formats = formats;
  }

  take(path: string, parts: Readonly<Record<string, unknown>>, fail: Fail): void {
    for (const name of Object.keys(parts)) {
      if (!members.includes(name)) fail(`A plug-in gives no "${name}".${suggestion(name, members)}`);
    }
    const { checks = [], adapters: given = [], reports = {} } = parts;
    if (!Array.isArray(checks)) fail("checks: a list of checks is wanted.");
    if (!Array.isArray(given)) fail("adapters: a list of adapters is wanted.");
    for (const [index, check] of (checks as unknown[]).entries()) this.takeCheck(path, index, check, fail);
    for (const [index, adapter] of (given as unknown[]).entries()) {
      const faults = adapterFaults(adapter, [...adapters, ...this.adapters]);
      const { name } = (adapter ?? {}) as { name?: unknown };
      const called = typeof name === "string" ? ` ("${name}")` : "";
      if (faults.length > 0) fail(`adapters.${index}${called}: ${faults.join("; ")}.`);
      const own = foreignAdapter(path, adapter as Adapter);
      this.adapters.push(own);
      this.origins.set(`adapter ${own.name}`, path);
    }
    for (const [name, report] of entriesOf(reports, "reports", fail)) {
      const place = `reports.${name}`;
      if (!/^[a-z][a-z0-9-]*$/.test(name)) {
        fail(`${place}: a report's name is made of small letters, digits and hyphens.`);
      }
      if (this.formats.includes(name) || Object.hasOwn(this.reports, name)) {
        fail(`${place}: another report has this name.`);
      }
      if (typeof report !== "function") fail(`${place}: a function is wanted.`);
      this.reports[name] = report;
      this.origins.set(name, path);
    }
  }

  private takeCheck(path: string, index: number, check: unknown, fail: Fail): void {
    const taken = [...keyside.registry, ...this.checks].map(({ name }) => name);
    const faults = foreignCheckFaults(check, taken);
    const { name } = (check ?? {}) as { name?: unknown };
    const called = typeof name === "string" ? ` ("${name}")` : "";
    if (faults.length > 0) fail(`checks.${index}${called}: ${faults.join("; ")}.`);
    const own = foreignCheck(check as keyside.Check);
    this.checks.push(own);
    this.origins.set(own.name, path);
  }
}

function entriesOf(given: unknown, place: string, fail: Fail): [string, unknown][] {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    return fail(`${place}: an object is wanted, with a function for each name.`);
  }
  return Object.entries(given);
}
