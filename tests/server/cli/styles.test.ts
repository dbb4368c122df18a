import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

const config = {
  styles: {
    "our-show": {
      extends: "snappy",
      what: "Figures that jump.",
      checks: {
        pop: { on: false, why: "Paper jumps." },
        "over-speed": { body: "15 m/s", why: "Paper is light." },
      },
    },
  },
};
const document = poppingDocument();

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("keyside.config.json", config);
  await shop.put("pop.curves.json", document);
  await shop.put("ours.curves.json", { ...document, shot: { ...document.shot, style: "our-show" } });
  await shop.put("lost.curves.json", { ...document, shot: { ...document.shot, style: "our-shw" } });
});
afterAll(() => shop.close());

const checksIn = async (...argv: string[]) => {
  const { stdout } = await shop.run(["check", ...argv, "--format", "json"]);
  const [shot] = JSON.parse(stdout).shots;
  return { checks: shot.notes.map(({ check }: { check: string }) => check), inferred: shot.inferred };
};

describe("a style of the configuration", () => {
  test("is taken by --style NAME, and by the document that names it", async () => {
    expect((await checksIn("pop.curves.json")).checks).toContain("pop");
    expect((await checksIn("pop.curves.json", "--style", "our-show")).checks).not.toContain("pop");
    const named = await checksIn("ours.curves.json");
    expect(named.checks).not.toContain("pop");
    expect(named.inferred).toContain("style: our-show, as the document says");
    expect((await checksIn("ours.curves.json", "--style", "full")).checks).toContain("pop");
  });

  test("that a document names and nobody writes is said in the report", async () => {
    const { checks, inferred } = await checksIn("lost.curves.json");
    expect(checks).toContain("pop");
    expect(inferred.join(" ")).toContain(
      '"our-shw" is none of full, snappy, limited, twos, our-show. Did you mean "our-show"?',
    );
  });

  test("is shown by keyside config with the reason of each change, down to the style that it extends", async () => {
    const { stdout } = await shop.run([
      "config",
      "pop.curves.json",
      "--style",
      "our-show",
      "--format",
      "json",
    ]);
    const { checks, run } = JSON.parse(stdout);
    expect(run.style).toEqual({ value: "our-show", from: "command line" });
    expect(checks.pop.on).toEqual({ value: false, from: "style our-show", why: "Paper jumps." });
    expect(checks["over-speed"].body).toMatchObject({
      value: 15,
      from: "style our-show",
      why: "Paper is light.",
    });
    expect(checks["hard-stop"].on).toMatchObject({ value: false, from: "style snappy" });
    const text = await shop.run(["config", "pop.curves.json", "--style", "our-show"]);
    expect(text.stdout).toMatch(/ on +no +style our-show: Paper jumps\./);
  });
});

describe("a style that is not there", () => {
  test.each([["check"], ["config"], ["sheet"], ["fix"], ["baseline"]])(
    "is wrong use of %s, with the nearest name",
    async (command) => {
      const more = command === "baseline" ? ["--out", "known.json"] : [];
      const { code, stderr } = await shop.run([command, "pop.curves.json", "--style", "our-shw", ...more]);
      expect(code).toBe(2);
      expect(stderr).toContain('Did you mean "our-show"?');
    },
  );
});

test("keyside explain says what styles do to a check, and why", async () => {
  const { stdout } = await shop.run(["explain", "hard-stop"]);
  expect(stdout).toContain("Styles\n");
  expect(stdout).toMatch(/snappy: off\. Poses are hit at once/);
  expect(stdout).toMatch(/twos: share [\d.]+ \w+ instead of [\d.]+\. Half as many poses/);
});

describe("keyside calibrate", () => {
  test("writes what it learns as a style that can be used by its name, on top of one of their own", async () => {
    const ran = await shop.run([
      ...[
        "calibrate",
        "pop.curves.json",
        "--out",
        "learnt.json",
        "--name",
        "learnt",
        "--few",
        "--percentile",
        "50",
      ],
      ...["--only", "over-speed", "--style", "our-show"],
    ]);
    expect(ran).toMatchObject({ code: 0, stderr: "" });
    const { stdout } = await shop.run([
      ...["config", "pop.curves.json", "--config", "learnt.json", "--style", "learnt", "--format", "json"],
    ]);
    const { checks } = JSON.parse(stdout);
    expect(checks.pop.on).toEqual({ value: false, from: "style our-show", why: "Paper jumps." });
    const learnt = Object.values(checks["over-speed"]).filter(
      (row) => (row as { from: string }).from === "style learnt",
    );
    for (const row of learnt)
      expect((row as { why: string }).why).toMatch(/\d+ of \d+ approved shots? that it could limit pass/);
  });

  test("takes no name that a style has", async () => {
    const { code, stderr } = await shop.run([
      "calibrate",
      "pop.curves.json",
      "--out",
      "x.json",
      "--name",
      "snappy",
    ]);
    expect(code).toBe(2);
    expect(stderr).toContain("There is a style of this name already");
  });
});
