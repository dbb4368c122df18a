import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("pop.curves.json", JSON.stringify(poppingDocument(), null, 1));
  await shop.put("next.curves.json", JSON.stringify(poppingDocument(), null, 1));
});
afterAll(() => shop.close());

const shot = "pop.curves.json";
const checked = async (...argv: string[]): Promise<string[]> => {
  const { stdout, stderr } = await shop.run(["check", shot, "--format", "json", ...argv]);
  expect(stderr).toBe("");
  return JSON.parse(stdout).shots[0].notes.map(({ check }: { check: string }) => check);
};

describe("--skip", () => {
  test("leaves checks out, one by one or in a list, also of those of --only", async () => {
    expect(await checked()).toContain("pop");
    expect(await checked("--skip", "pop")).not.toContain("pop");
    expect(await checked("--skip", "hitch,pop")).not.toContain("pop");
    expect(await checked("--skip", "pop", "--skip", "hitch")).not.toContain("pop");
    expect(await checked("--skip", "hitch", "--only", "pop")).toEqual(["pop"]);
    expect(await checked("--only", "pop", "--skip", "pop")).toEqual([]);
  });

  test("leaves the studio's own checks out by their common name", async () => {
    const expression = "angularSpeed(subject) > 1 deg/s";
    const ownChecks = [{ name: "post-turns", tier: "minor", node: "post", expression, message: "turns" }];
    await shop.put("own.json", { ownChecks });
    expect(await checked("--config", "own.json")).toContain("post-turns");
    expect(await checked("--config", "own.json", "--skip", "own")).not.toContain("post-turns");
  });
});

describe("--set", () => {
  test("gives settings the values that a configuration would, and goes before it", async () => {
    await shop.put("loose.json", { checks: { pop: { floor: "4 m", angleFloor: "170 deg" } } });
    const loose = ["--set", "pop.floor=4", "--set", "pop.angleFloor = 170 deg"];
    expect(await checked("--only", "pop", "--config", "loose.json")).toEqual([]);
    expect(await checked("--only", "pop", ...loose)).toEqual([]);
    const strict = ["--set", "pop.floor=1 mm", "--set", "pop.angleFloor=4"];
    expect(await checked("--only", "pop", "--config", "loose.json", ...strict)).toEqual(["pop"]);
    // The last value counts.
    expect(await checked("--only", "pop", ...loose, ...strict)).toEqual(["pop"]);
    expect(await checked("--only", "pop", ...strict, ...loose)).toEqual([]);
  });

  test("turns a check off and on, and gives it a highest tier", async () => {
    await shop.put("off.json", { checks: { pop: false } });
    expect(await checked("--set", "pop.on=false")).not.toContain("pop");
    expect(await checked("--config", "off.json", "--set", "pop.floor=1 mm")).not.toContain("pop");
    expect(await checked("--config", "off.json", "--set", "pop.on=true")).toContain("pop");
    const { code } = await shop.run(["check", shot, "--only", "pop", "--set", "pop.tier=polish"]);
    expect(code).toBe(0);
  });
});

test("what is kept in a cache is that of the same choices", async () => {
  const kept = ["--cache", "kept"];
  expect(await checked(...kept)).toContain("pop");
  expect(await checked(...kept, "--skip", "pop")).not.toContain("pop");
  expect(await checked(...kept, "--set", "pop.floor=4", "--set", "pop.angleFloor=170")).not.toContain("pop");
  expect(await checked(...kept)).toContain("pop");
});

test.each(["sheet", "fix", "compare"])("%s takes them as well", async (command) => {
  const argv = command === "compare" ? [command, shot, "next.curves.json"] : [command, shot];
  const isSheet = command === "sheet";
  const mark = isSheet ? /\*\*\d+\. Pop\*\*/ : /"check": "pop"/;
  const saysPop = async (...more: string[]) => {
    const { stdout, stderr } = await shop.run([...argv, "--format", isSheet ? "markdown" : "json", ...more]);
    expect(stderr).toBe("");
    return mark.test(stdout);
  };
  expect(await saysPop()).toBe(true);
  expect(await saysPop("--skip", "pop")).toBe(false);
  expect(await saysPop("--set", "pop.floor=4", "--set", "pop.angleFloor=170")).toBe(false);
});

test("a baseline holds what is not left out", async () => {
  const written = async (name: string, ...more: string[]) => {
    expect(await shop.run(["baseline", shot, "--out", name, ...more])).toMatchObject({ code: 0 });
    return checked("--baseline", name);
  };
  expect(await written("all.json")).toEqual([]);
  expect(await written("some.json", "--skip", "pop")).toEqual(["pop"]);
});

test("config shows where their values come from", async () => {
  await shop.put("some.json", { checks: { pop: { floor: 0.03, tier: "minor" } } });
  const shown = async (...more: string[]) => {
    const { stdout } = await shop.run(["config", shot, "--format", "json", "--config", "some.json", ...more]);
    return JSON.parse(stdout).checks;
  };
  const from = "command line";
  const { pop, hitch } = await shown("--set", "pop.floor=2 cm", "--skip", "hitch");
  expect(pop.floor).toEqual({ value: 0.02, unit: "m", from });
  expect(pop.tier).toEqual({ value: "minor", from: "some.json" });
  expect(pop.on).toEqual({ value: true, from: "default" });
  expect(hitch.on).toEqual({ value: false, from });
  const tiered = await shown("--set", "pop.tier=polish", "--style", "snappy", "--set", "hard-stop.share=0.3");
  expect(tiered.pop.tier).toEqual({ value: "polish", from });
  expect(tiered.pop.spread.from).toBe("style snappy");
  expect(tiered["hard-stop"].on).toEqual({ value: true, from });
  expect(tiered["hard-start"].on).toEqual({
    value: false,
    from: "style snappy",
    why: "Poses are left at once: that is the punch of the style.",
  });
});

describe("wrong use", () => {
  test.each<[readonly string[], string]>([
    [["--skip", "popp"], 'There is no check "popp". Did you mean "pop"?'],
    [["--skip", "zzzz"], 'There is no check "zzzz". keyside explain lists them.'],
    [["--skip", ","], "Name at least one check."],
    [["--set", "pop"], "A setting is CHECK.SETTING=VALUE, such as"],
    [["--set", "pop.floor="], "A setting is CHECK.SETTING=VALUE"],
    [["--set", "pop=1"], "A setting is CHECK.SETTING=VALUE"],
    [["--set", "popp.floor=1"], 'There is no check "popp". Did you mean "pop"?'],
    [["--set", "pop.flor=1"], 'The check pop has no setting "flor". Did you mean "floor"?'],
    [["--set", "pop.zzzz=1"], 'The check pop has no setting "zzzz". keyside explain pop lists them.'],
    [["--set", "pop.floor=-1"], "--set pop.floor: -1 H is below the least allowed, 0 H."],
    [
      ["--set", "hard-stop.share=130 %"],
      "--set hard-stop.share: 1.3 share is above the most allowed, 1 share.",
    ],
    [
      ["--set", "pop.floor=2 kg"],
      '"2 kg" has an unknown unit, "kg": a length is wanted, for example "2 cm".',
    ],
    [["--set", "pop.floor=2 deg"], 'another kind of quantity: a length is wanted, for example "2 cm".'],
    [["--set", "pop.floor=1e999"], "The value must be a finite number."],
    [["--set", "pop.on=perhaps"], "A check is on or not: true or false."],
    [["--set", "pop.tier=mnor"], '"mnor" is none of major, minor, polish. Did you mean "minor"?'],
    [["--set", "pop.floor=-1", "--set", "pop.tier=x"], "--set pop.tier:"],
  ])("%j", async (argv, reason) => {
    const { code, stdout, stderr } = await shop.run(["check", shot, ...argv]);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(reason);
    expect(stderr.trim().split("\n")).toHaveLength(1);
  });
});
