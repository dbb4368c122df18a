import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type Note, readShot, registry, type Waiver, waiverFor } from "@keyside/core";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { Workshop } from "../server/cli/run-in-process.ts";
import { demoModule } from "./load.ts";

interface Provocation {
  readonly check: string;
  readonly shot: string;
  readonly node: string;
  readonly frames: readonly [number, number];
  readonly slip: string;
  readonly edits?: readonly unknown[];
}
/** A note of a report; what another note speaks for tells no keys. */
type Reported = Pick<Note, "check" | "node" | "frames"> & Partial<Pick<Note, "keys">>;

const module = await demoModule("provocations/index.mjs");
const provocations: readonly Provocation[] = module.provocations;
const textOf: (provocation: Provocation) => string = module.provokedText;
const versionText = (shot: string) =>
  readFileSync(fileURLToPath(new URL(`../../demo/shots/${shot}.curves.json`, import.meta.url)), "utf8");

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

/** Notes that the command gives of a file, and after each those that it speaks for. */
async function notesIn(file: string, ...argv: string[]): Promise<Reported[]> {
  const { stdout, stderr } = await shop.run(["check", file, "--no-cache", "--format", "json", ...argv]);
  expect(stderr).toBe("");
  const notes: (Reported & { readonly also?: readonly Reported[] })[] = JSON.parse(stdout).shots[0].notes;
  return notes.flatMap((note) => [note, ...(note.also ?? [])]);
}

const isAt =
  ({ check, node, frames }: Provocation) =>
  (note: Reported) =>
    note.check === check && note.node === node && note.frames[0] >= frames[0] && note.frames[0] <= frames[1];

/** Notes of the versions as they are; each is judged once. */
const versions = new Map<string, Promise<Reported[]>>();
function notesOfVersion(shot: string): Promise<Reported[]> {
  let notes = versions.get(shot);
  if (notes === undefined) {
    notes = shop.put(`${shot}.curves.json`, versionText(shot)).then(() => notesIn(`${shot}.curves.json`));
    versions.set(shot, notes);
  }
  return notes;
}

/** Nodes of which a provocation changes keys. */
function touchedNodes(provocation: Provocation, text: string): Set<string> {
  const curvesIn = (document: string) =>
    new Map(
      readShot(document).shot?.curves.map((curve) => [
        `${curve.node} ${curve.channel}`,
        JSON.stringify([[...curve.frames], [...curve.values], [...(curve.handles ?? [])]]),
      ]),
    );
  const before = curvesIn(versionText(provocation.shot));
  const changed = [...curvesIn(text)].filter(([name, keys]) => before.get(name) !== keys);
  return new Set(changed.map(([name]) => name.split(" ")[0]));
}

describe.each(registry.map((check) => [check.name, check] as const))("%s", (name, { family, ripening }) => {
  const found = provocations.filter(({ check }) => check === name);
  const wanted = `Nothing in the demo makes "${name}" speak: say in packages/core/faults/${family}/${name}/examples.ts in which version, by which slip, and where its note begins.`;

  test("is provoked by a slip in a demo shot, and silenced in each way that there is", async () => {
    expect(found, wanted).toHaveLength(1);
    const [provocation] = found;
    const text = textOf(provocation);
    expect(readShot(text).problems).toEqual([]);
    const file = `${name}.curves.json`;
    await shop.put(file, text);

    // A check that ripens runs where it is named.
    await shop.put("named.json", { checks: { [name]: true } });
    const named = ripening === undefined ? [] : ["--config", "named.json"];
    const all = await notesIn(file, ...named);
    const own = all.filter(({ check }) => check === name);
    const note = own.find(isAt(provocation));
    expect(note, `${wanted} It says: ${JSON.stringify(own)}`).toBeDefined();
    if (provocation.edits !== undefined) {
      expect((await notesOfVersion(provocation.shot)).filter(isAt(provocation))).toEqual([]);
      const touched = touchedNodes(provocation, text);
      const blamed = [note?.node ?? "", ...(note?.keys ?? []).map(({ node }) => node)];
      expect(
        blamed.some((node) => touched.has(node)),
        `${blamed} of ${[...touched]}`,
      ).toBe(true);
    }

    const alone = await notesIn(file, "--only", name);
    expect(alone.some(isAt(provocation))).toBe(true);
    expect(new Set(alone.map(({ check }) => check))).toEqual(new Set([name]));
    expect(await notesIn(file, "--only", name, "--skip", name)).toEqual([]);

    // Each way silences it and leaves what another check says of the same shot.
    const neighbour = all.find(({ check }) => check !== name)?.check ?? name;
    const pair = ["--only", `${name},${neighbour}`];
    const both = await notesIn(file, ...pair);
    const ofPair = both.filter(({ check }) => check === name);
    const others = both.filter(({ check }) => check !== name);
    expect(ofPair.some(isAt(provocation))).toBe(true);
    expect(others.length > 0).toBe(neighbour !== name);
    expect((await notesIn(file, ...pair, "--skip", name)).map(({ check }) => check)).toEqual(
      others.map(({ check }) => check),
    );
    const off = registry.filter((check) => check.name !== neighbour || neighbour === name);
    await shop.put("off.json", { checks: Object.fromEntries(off.map((check) => [check.name, false])) });
    expect((await notesIn(file, "--config", "off.json")).map(({ check }) => check)).toEqual(
      others.map(({ check }) => check),
    );

    const waivers: Waiver[] = ofPair.map((one) => waiverFor(one, "It is meant."));
    await shop.put(`${name}.waivers.json`, { format: "keyside.waivers", version: 1, waivers });
    const waived = await notesIn(file, ...pair);
    expect(waived.map(({ check }) => check)).toEqual(others.map(({ check }) => check));
  });
});

test("every provocation is of a check that there is", () => {
  const names = registry.map(({ name }) => name);
  expect(provocations.map(({ check }) => check).filter((check) => !names.includes(check))).toEqual([]);
});

describe("the script", () => {
  async function ran(...names: string[]): Promise<string> {
    const lines: string[] = [];
    const { argv, exitCode } = process;
    for (const to of ["log", "error"] as const) {
      vi.spyOn(console, to).mockImplementation((line) => void lines.push(String(line)));
    }
    try {
      process.argv = [process.execPath, "provoke.mjs", "--out", shop.path("provoked"), ...names];
      process.exitCode = undefined;
      vi.resetModules();
      await demoModule("provoke.mjs");
      lines.push(`exit code ${process.exitCode ?? 0}`);
    } finally {
      process.argv = argv;
      process.exitCode = exitCode;
      vi.restoreAllMocks();
    }
    return lines.join("\n");
  }

  test("lists all checks with the shot and what is done to it", async () => {
    const listed = await ran();
    for (const { check, shot, slip } of provocations) {
      expect(listed).toMatch(new RegExp(`^  ${check} +${shot} +${slip}$`, "m"));
    }
  });

  test("shows a check's note, and that it is silent when it is told to be", async () => {
    const shown = await ran("hard-start");
    expect(shown).toMatch(
      /\$ keyside check \S*provoked\/hard-start\.curves\.json --long\n {2}right forearm\n/,
    );
    expect(shown).toMatch(/^ {4}minor {2}hard-start, frame 5$/m);
    expect(shown.match(/^ {2}nothing of hard-start$/gm)).toHaveLength(3);
    expect(shown).toMatch(/exit code 0$/);
  });

  test("names the nearest check", async () => {
    expect(await ran("hard-strat")).toBe(
      'There is no check "hard-strat" to provoke. Did you mean "hard-start"?\nexit code 2',
    );
  });
});
