import { readConfig, registry, resolveSettings, ShotSession, shotOf, studyOf } from "@keyside/core";
import { settingsOf, styleSentences } from "@keyside/core/internal";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { pointDocument } from "../../../packages/core/faults/shared/examples/motions.ts";
import { styleNames } from "../../../packages/core/settings/styles.ts";

const why = "It is how this show moves.";
const read = (config: unknown) => readConfig(registry, config);
const checksOf = async (config: unknown, style?: string) =>
  resolveSettings(registry, await read(config), style === undefined ? {} : { style }).checks;

describe("a style of one's own", () => {
  const show = {
    style: "our-show",
    styles: {
      "our-show": {
        extends: "snappy",
        what: "Snappy, with soft stops.",
        checks: {
          "hard-stop": { on: true, why },
          "over-speed": { body: "15 m/s", why },
          twinning: { on: false, why },
          pop: { tier: "minor", why },
        },
      },
      "our-gag": { extends: "our-show", checks: { twinning: { on: true, why }, jitter: { on: false, why } } },
    },
  };

  test("is the style that it extends, with its changes", async () => {
    const [ours, snappy] = [await checksOf(show), await checksOf({ style: "snappy" })];
    expect(ours.get("hard-stop")?.on).toBe(true);
    expect(ours.get("hard-start")?.on).toBe(snappy.get("hard-start")?.on);
    expect(ours.get("spacing-jump")?.values).toEqual(snappy.get("spacing-jump")?.values);
    expect(ours.get("over-speed")?.values["body"]).toEqual({ value: 15, unit: "m/s" });
    expect(ours.get("twinning")?.on).toBe(false);
    expect(ours.get("pop")?.ceiling).toBe("minor");
  });

  test("extends another of one's own, and is chosen by its name for a run", async () => {
    const gag = await checksOf(show, "our-gag");
    expect(gag.get("twinning")?.on).toBe(true);
    expect(gag.get("jitter")?.on).toBe(false);
    expect(gag.get("over-speed")?.values["body"]?.value).toBe(15);
  });

  test("moves defaults alone: what the configuration's checks choose goes before it", async () => {
    const config = { ...show, checks: { "over-speed": { body: 11 }, twinning: true } };
    const checks = await checksOf(config);
    expect(checks.get("over-speed")?.values["body"]?.value).toBe(11);
    expect(checks.get("twinning")?.on).toBe(true);
  });

  test("that only extends is the one that it extends", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...styleNames),
        fc.integer({ min: 1, max: 4 }),
        async (base, depth) => {
          const styles = Object.fromEntries(
            Array.from({ length: depth }, (_, k) => [
              `own-${k}`,
              { extends: k === 0 ? base : `own-${k - 1}` },
            ]),
          );
          const own = await checksOf({ style: `own-${depth - 1}`, styles });
          expect([...own]).toEqual([...(await checksOf({ style: base }))]);
        },
      ),
      { numRuns: 12 },
    );
  });

  test.each([
    [
      { style: "our-shw", styles: show.styles },
      'style: "our-shw" is none of full, snappy, limited, twos, our-show, our-gag. Did you mean "our-show"?',
    ],
    [{ styles: { ours: { extends: "snapy" } } }, 'styles.ours.extends: "snapy" is none of'],
    [
      { styles: { a: { extends: "b" }, b: { extends: "a" } } },
      "styles.a.extends: The styles extend each other in a circle: a extends b extends a.",
    ],
    [{ styles: { a: { extends: "a" } } }, "The styles extend each other in a circle: a extends a."],
    [
      { styles: { ours: { checks: { "hard-stp": { on: false, why } } } } },
      'styles.ours.checks.hard-stp: There is no check of this name. Did you mean "hard-stop"?',
    ],
    [
      { styles: { ours: { checks: { pop: { spred: 2, why } } } } },
      'styles.ours.checks.pop.spred: There is no setting of this name. Did you mean "spread"?',
    ],
    [
      { styles: { ours: { checks: { pop: { on: false } } } } },
      "styles.ours.checks.pop.why: Say why the style has it so, in a sentence.",
    ],
    [{ styles: { snappy: { checks: {} } } }, "styles.snappy: A style of this name is there already"],
    [{ styles: { "Our Show": {} } }, "A style's name is small letters, with hyphens between words."],
    [
      { styles: { ours: { checks: { "over-speed": { body: "-2 m/s", why } } } } },
      "styles.ours.checks.over-speed.body: ",
    ],
    [
      { styles: { ours: { extend: "full" } } },
      'styles.ours.extend: There is no setting of this name. Did you mean "extends"?',
    ],
  ])("%j is refused, naming the place and the way out", async (config, message) => {
    await expect(read(config)).rejects.toThrow(message);
  });

  test("that a run names and nobody writes is an error with the nearest name", async () => {
    const config = await read(show);
    expect(() => resolveSettings(registry, config, { style: "our-gags" })).toThrow('Did you mean "our-gag"?');
  });
});

describe("the style that a document names", () => {
  const document = (style?: string) => {
    const made = pointDocument(
      {
        "translation.x": [
          [1, 0],
          [24, 1],
        ],
      },
      { range: [1, 24] },
    );
    return { ...made, shot: { ...made.shot, ...(style === undefined ? {} : { style }) } };
  };
  const studied = (style: string | undefined, settings: ReturnType<typeof resolveSettings>) => {
    const { shot } = shotOf(document(style));
    if (shot === null) throw new Error("the document cannot be used");
    return studyOf(shot, settings);
  };

  test("holds where nobody chooses one, also one of the configuration's", async () => {
    const config = await read({
      styles: { ours: { extends: "snappy", checks: { pop: { on: false, why } } } },
    });
    const study = studied("ours", resolveSettings(registry, config));
    expect(settingsOf(study).style).toBe("ours");
    expect(settingsOf(study).checks.get("pop")?.on).toBe(false);
    expect(styleSentences(study)).toEqual(["style: ours, as the document says"]);
  });

  test("does not hold where a configuration or a run chooses one", () => {
    for (const settings of [
      resolveSettings(registry, { style: "full" }),
      resolveSettings(registry, {}, { style: "full" }),
    ]) {
      const study = studied("snappy", settings);
      expect(settingsOf(study).style).toBe("full");
      expect(styleSentences(study)).toEqual([]);
    }
  });

  test("that is not there is said, with the nearest name, and the shot is judged all the same", () => {
    const study = studied("snapy", resolveSettings(registry));
    expect(settingsOf(study).style).toBe("full");
    expect(styleSentences(study)).toEqual([
      'style of the document: "snapy" is none of full, snappy, limited, twos. Did you mean "snappy"? It is judged by full',
    ]);
  });

  test("is that of the text as it is edited", () => {
    const settings = resolveSettings(registry);
    const { shot } = shotOf(document());
    const { shot: styled } = shotOf(document("snappy"));
    if (shot === null || styled === null) throw new Error("the document cannot be used");
    const session = new ShotSession(shot, settings);
    expect(settingsOf(session.study).style).toBe("full");
    session.replace(styled);
    expect(settingsOf(session.study).style).toBe("snappy");
  });
});
