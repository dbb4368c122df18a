import { mkdir, readFile } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { readConfig } from "../../../../packages/core/expressions/config.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { Calibration, rank, shotsNeeded } from "../../../../packages/server/judge/calibrate/calibration.ts";
import { probe } from "../../../../packages/server/judge/calibrate/probe.ts";
import { bipedDocument, everyFrame, studyOf } from "../../../support/shots.ts";
import { Workshop } from "../../cli/run-in-process.ts";

/** A biped that glides at a constant speed: what over-speed measures at the hips is that speed. */
function gliding(metresPerSecond: number): CurveDocument {
  return bipedDocument(
    { "hips translation.z": everyFrame(1, 24, (frame) => (metresPerSecond * (frame - 1)) / 24) },
    { range: [1, 24] },
  );
}

const check = (name: string) => {
  const found = registry.find((one) => one.name === name);
  if (found === undefined) throw new Error(name);
  return found;
};

function calibrated(
  documents: readonly CurveDocument[],
  name: string,
  setting: string,
  choice = { percentile: 90, beyondBounds: false },
) {
  const calibration = new Calibration([check(name)]);
  for (const document of documents) calibration.add(studyOf(document));
  const inForce = defaultSettings(registry).checks;
  const results = calibration.results(choice, (one, of) => {
    const value = inForce.get(one.name)?.values[of];
    if (value === undefined) throw new Error(of);
    return value;
  });
  const result = results.find((one) => one.setting === setting);
  if (result === undefined) throw new Error(setting);
  return result;
}

describe("percentiles by the nearest rank", () => {
  // Worked example of the nearest-rank method: of 15, 20, 35, 40, 50 the 30th is 20, the 40th 20, the 50th 35, the 100th 50.
  test.each([
    [30, 20],
    [40, 20],
    [50, 35],
    [100, 50],
  ])("the %sth", (percentile, expected) => {
    expect(rank([15, 20, 35, 40, 50], percentile)).toBe(expected);
  });

  test.each([
    [50, 2],
    [90, 10],
    [99, 100],
    [100, 100],
  ])("the %sth needs %s shots", (percentile, shots) => {
    expect(shotsNeeded(percentile)).toBe(shots);
  });
});

test("a most: the speed of the shot at the percentile, rounded outward", () => {
  const result = calibrated(
    Array.from({ length: 10 }, (_, i) => gliding(i + 1)),
    "over-speed",
    "body",
  );
  expect(result).toMatchObject({ side: "max", threshold: 9.01, reason: null, warnings: [], isThin: false });
  expect(result.distribution?.shots).toBe(10);
  expect(result.distribution?.least).toBeCloseTo(1, 6);
  expect(result.distribution?.median).toBeCloseTo(5, 6);
  expect(result.distribution?.most).toBeCloseTo(10, 6);
});

test("with the threshold in force the shots up to the percentile pass, and no others", async () => {
  const shots = Array.from({ length: 10 }, (_, i) => gliding(i + 1));
  const { threshold } = calibrated(shots, "over-speed", "body");
  const config = await readConfig(registry, { checks: { "over-speed": { body: threshold } } });
  const noted = shots.map((shot) => notesOf(studyOf(shot, config, { only: ["over-speed"] })).length > 0);
  expect(noted).toEqual([...Array(9).fill(false), true]);
});

test("never looser than the bound of a body, unless that is asked for", () => {
  const shots = Array.from({ length: 10 }, (_, i) => gliding(i + 10));
  const kept = calibrated(shots, "over-speed", "body");
  expect(kept.threshold).toBe(12.5);
  expect(kept.warnings).toEqual([
    "these shots would have 18.1 m/s; kept at the bound of 12.5 m/s: a body travels no faster",
  ]);
  const beyond = calibrated(shots, "over-speed", "body", { percentile: 90, beyondBounds: true });
  expect(beyond.threshold).toBe(18.1);
});

test("too few shots are said, and so is a threshold much looser than before", () => {
  const thin = calibrated([gliding(2), gliding(3)], "over-speed", "body");
  expect(thin).toMatchObject({
    isThin: true,
    warnings: ["2 of the 10 shots that the 90th percentile needs"],
  });
  const loose = calibrated(
    Array.from({ length: 10 }, () => gliding(80)),
    "over-speed",
    "body",
    { percentile: 90, beyondBounds: true },
  );
  expect(loose.warnings[0]).toContain("5 times looser");
});

test("a length in body heights is learnt in body heights", () => {
  // A hop within one frame: pop measures how far the hips leave their path, 8.5 cm being 0.05 of 1.7 m.
  const popping = bipedDocument(
    { "hips translation.y": everyFrame(1, 24, (frame) => 0.95 + (frame === 12 ? 0.085 : 0)) },
    { range: [1, 24] },
  );
  const probed = probe(studyOf(popping), check("pop"), "floor");
  const [measured] = [...probed].filter(
    ([way, { worst }]) => way.side === "max" && way.rule === "measured" && worst !== null,
  );
  // The cubic through its neighbours predicts the hips' height exactly (all alike), so that the deviation is the hop.
  expect(measured?.[1].worst).toBeCloseTo(0.05, 6);
});

test("a setting that these shots say nothing of gets no threshold, with the reason", () => {
  const frames = calibrated([gliding(3), gliding(4)], "off-ground", "frames");
  expect(frames).toMatchObject({ threshold: null, side: null, distribution: null });
  expect(frames.reason).toMatch(/these shots$/);
});

test("every setting is answered: a threshold, or why there is none", () => {
  const calibration = new Calibration(registry);
  calibration.add(studyOf(gliding(3)));
  const inForce = defaultSettings(registry).checks;
  const results = calibration.results({ percentile: 99, beyondBounds: false }, (one, of) => {
    const value = inForce.get(one.name)?.values[of];
    if (value === undefined) throw new Error(of);
    return value;
  });
  expect(results).toHaveLength(registry.reduce((sum, one) => sum + Object.keys(one.settings).length, 0));
  for (const { threshold, reason } of results) expect(threshold === null).toBe(reason !== null);
  // None of them failed when it was turned to its strictest.
  expect(results.filter(({ reason }) => reason?.startsWith("the check cannot be run"))).toEqual([]);
});

test("bounds are at least as loose as the defaults, and say why", () => {
  const bounded = registry.flatMap((one) =>
    Object.values(one.settings).filter(({ bound }) => bound !== undefined),
  );
  expect(bounded.length).toBeGreaterThan(0);
  for (const { bound, default: value } of bounded) {
    expect(bound?.why).not.toBe("");
    expect(value).toBeLessThanOrEqual(bound?.max ?? Number.POSITIVE_INFINITY);
    expect(value).toBeGreaterThanOrEqual(bound?.min ?? Number.NEGATIVE_INFINITY);
  }
});

describe("the command", () => {
  let shop: Workshop;
  beforeAll(async () => {
    shop = await Workshop.open();
    await mkdir(shop.path("approved"));
    for (let i = 1; i <= 10; i++) await shop.put(`approved/${i}.curves.json`, gliding(i));
  });
  afterAll(() => shop.close());
  const run = (...more: string[]) =>
    shop.run([
      "calibrate",
      "approved",
      "--percentile",
      "90",
      "--only",
      "over-speed",
      "--no-progress",
      ...more,
    ]);

  test("writes a configuration that can be used, and says what it rests on", async () => {
    const ran = await run("--out", "learnt.json");
    expect(ran).toMatchObject({ code: 0, stderr: "" });
    expect(ran.stdout).toContain("10 shots, percentile 90");
    expect(ran.stdout).toContain("body: at most 9.01 m/s (was 12.5)");
    expect(ran.stdout).toContain("10 shots, 10 values: least 1, median 5, most 10 m/s");
    const config = JSON.parse(await readFile(shop.path("learnt.json"), "utf8"));
    expect(config.style).toBe("approved");
    expect(config.styles.approved).toMatchObject({
      extends: "full",
      what: "Learnt from 10 approved shots, percentile 90.",
    });
    expect(config.styles.approved.checks["over-speed"]).toMatchObject({ body: 9.01 });
    expect(config.styles.approved.checks["over-speed"].why).toContain(
      "9 of 10 approved shots that it could limit pass",
    );
    await expect(readConfig(registry, config)).resolves.toBeDefined();
    const checked = await shop.run([
      "check",
      "approved",
      "--config",
      "learnt.json",
      "--only",
      "over-speed",
      "--no-cache",
      "--format",
      "json",
    ]);
    const noted = JSON.parse(checked.stdout).shots.filter(
      ({ notes }: { notes: unknown[] }) => notes.length > 0,
    );
    expect(noted).toHaveLength(1);
  });

  test("writes nothing from too few shots unless asked to", async () => {
    const thin = await shop.run([
      "calibrate",
      "approved/3.curves.json",
      "--only",
      "over-speed",
      "--out",
      "thin.json",
    ]);
    expect(thin.stdout).toContain("1 of the 100 shots that the 99th percentile needs");
    expect(thin.stdout).toContain("not written");
    expect(JSON.parse(await readFile(shop.path("thin.json"), "utf8"))).toMatchObject({
      styles: { approved: { checks: {} } },
    });
    await shop.run([
      "calibrate",
      "approved/3.curves.json",
      "--only",
      "over-speed",
      "--few",
      "--out",
      "few.json",
    ]);
    expect(
      JSON.parse(await readFile(shop.path("few.json"), "utf8")).styles.approved.checks["over-speed"].body,
    ).toBe(3.01);
  });

  test("as JSON", async () => {
    const ran = await run("--out", "again.json", "--format", "json");
    const { shots, settings } = JSON.parse(ran.stdout);
    expect(shots).toBe(10);
    expect(settings.find(({ setting }: { setting: string }) => setting === "body")).toMatchObject({
      threshold: 9.01,
      side: "max",
    });
  });

  test("keeps a configuration that is there", async () => {
    await shop.put("mine.json", "{}");
    expect(await run("--out", "mine.json")).toMatchObject({ code: 2 });
    expect(await readFile(shop.path("mine.json"), "utf8")).toBe("{}");
  });

  test.each([
    [["--percentile", "20", "--out", "x.json"], 2, /from 50 to 100/],
    [["--only", "over-sped", "--out", "x.json"], 2, /Did you mean "over-speed"/],
    [[], 2, /--out/],
  ])("%j is refused", async (more, code, message) => {
    const ran = await shop.run(["calibrate", "approved", ...more]);
    expect(ran.code).toBe(code);
    expect(ran.stderr).toMatch(message);
  });

  test("a file that cannot be read is said, and the rest is learnt from", async () => {
    await mkdir(shop.path("mixed"));
    await shop.put("mixed/a.curves.json", gliding(2));
    await shop.put("mixed/b.curves.json", "{");
    const ran = await shop.run([
      "calibrate",
      "mixed",
      "--few",
      "--only",
      "over-speed",
      "--out",
      "mixed.json",
    ]);
    expect(ran.code).toBe(3);
    expect(ran.stderr).toMatch(/^keyside: mixed\/b\.curves\.json: /);
    expect(ran.stdout).toContain("1 shot, ");
  });

  test("a folder without shots is wrong use", async () => {
    await mkdir(shop.path("empty"));
    expect((await shop.run(["calibrate", "empty", "--out", "none.json"])).code).not.toBe(0);
  });
});
