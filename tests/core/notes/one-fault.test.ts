import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import type { Note, NoteKey } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { assembleNotes } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { groupsOf } from "../../../packages/core/notes/groups.ts";
import { gapOf } from "../../../packages/core/notes/one-cause.ts";
import { farApart, isOne, isOneFromAfar } from "../../../packages/core/notes/one-fault.ts";
import { reviewed, setWaiversBeside } from "../../../packages/core/notes/waivers.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { settingsOf } from "../../../packages/core/settings/study.ts";
import { tiers } from "../../../packages/core/settings/tier.ts";
import { bipedDocument, chainDocument, everyFrame, studyOf } from "../../support/shots.ts";

/** One fault is one note: what one change clears, and the same of left and right, is told together. */

const study = studyOf(bipedDocument({}, { range: [0, 100] }));
const named = (name: string) => registry.find((check) => check.name === name) as Check;

interface Drawn {
  readonly check: string;
  readonly node: string;
  readonly frames: readonly [number, number];
  readonly size?: number;
  readonly value?: number;
  readonly key?: { readonly channel: NoteKey["channel"]; readonly index: number; readonly node?: string };
  readonly tried?: number;
  readonly unit?: "m" | "frames";
}

function draft({
  check,
  node,
  frames,
  size = 0.05,
  value = size,
  key,
  tried = 0.9,
  unit = "m",
}: Drawn): Draft {
  const finding: Finding = {
    node: rigOf(study).indexOf.get(node) as number,
    figure: 0,
    from: frames[0],
    to: frames[1],
    measured: { quantity: "way", value, unit },
    expected: { max: 0.01, unit: "m", source: "this test" },
    excess: size / 0.01,
    size,
    fault: null,
  };
  const keys = key === undefined ? [] : [{ node, frame: frames[0], share: tried, ...key }];
  const words = { message: `${check} speaks`, suggestion: "mend it" };
  return { check: named(check), subject: 0, finding, keys, tried: key === undefined ? 0 : tried, ...words };
}

/** "off-ground + off-balance": a note and what it lists. */
const told = (notes: readonly Note[]) =>
  notes.map(({ check, also = [] }) => [check, ...also.map((other) => other.check)].join(" + "));
const toldOf = (...drawn: readonly Drawn[]) => told(assembleNotes(study, drawn.map(draft)));

describe("what is told together", () => {
  test("is what comes from one key", () => {
    const key = { channel: "rotation.x", index: 3 } as const;
    const stop: Drawn = { check: "hard-stop", node: "hips", frames: [20, 20], key };
    const other: Drawn = { check: "kinked-path", node: "hips", frames: [21, 21], size: 0.02, key };
    expect(toldOf(stop, other)).toEqual(["hard-stop + kinked-path"]);
    expect(toldOf(stop, { ...other, key: { ...key, index: 6 } })).toHaveLength(2);
    // As far as a key can be from what it causes, and no farther.
    expect(toldOf(stop, { ...other, frames: [24, 24] })).toHaveLength(1);
    expect(toldOf(stop, { ...other, frames: [30, 30] })).toHaveLength(2);
  });

  test("is the same of left and right over the same time", () => {
    const left: Drawn = { check: "raised-shoulders", node: "upper_arm_l", frames: [1, 40] };
    const right: Drawn = { ...left, node: "upper_arm_r", frames: [3, 38], size: 0.04 };
    expect(toldOf(left, right)).toEqual(["raised-shoulders + raised-shoulders"]);
    expect(toldOf(left, { ...right, frames: [30, 80] })).toHaveLength(2);
    expect(toldOf(left, { ...right, node: "hand_r" })).toHaveLength(2);
  });

  test("is a pose that is off by as much whenever it is held", () => {
    const key = { channel: "translation.y", index: 0, node: "hips" } as const;
    const first: Drawn = { check: "off-ground", node: "foot_l", frames: [1, 30], key };
    const again: Drawn = { ...first, frames: [50, 80], size: 0.045, key: { ...key, index: 5 } };
    expect(toldOf(first, again)).toEqual(["off-ground + off-ground"]);
    expect(toldOf(first, { ...again, size: 0.15 })).toHaveLength(2);
    expect(toldOf({ ...first, check: "contact-slide" }, { ...again, check: "contact-slide" })).toHaveLength(
      2,
    );
  });

  test("is what a part never does, however often it is asked to", () => {
    const grip: Drawn = { check: "still-fingers", node: "hand_l", frames: [10, 20] };
    expect(toldOf(grip, { ...grip, frames: [50, 60], size: 0.02 })).toEqual([
      "still-fingers + still-fingers",
    ]);
    expect(toldOf(grip, { ...grip, frames: [50, 60], node: "hand_r" })).toHaveLength(2);
  });

  test("is the same amount at another time, whichever channel of the limb makes it", () => {
    const first: Drawn = {
      check: "off-ground",
      node: "foot_l",
      frames: [1, 30],
      key: { node: "hips", channel: "translation.y", index: 0 },
    };
    const again: Drawn = {
      ...first,
      frames: [50, 80],
      size: 0.045,
      key: { node: "thigh_l", channel: "rotation.x", index: 5 },
    };
    expect(toldOf(first, again)).toEqual(["off-ground + off-ground"]);
  });

  test("is not what is wrong with keys as such beside what they move", () => {
    const key = { channel: "rotation.x", index: 3 } as const;
    const pop: Drawn = { check: "pop", node: "head", frames: [20, 20], key };
    expect(
      toldOf(pop, { check: "key-off-frame", node: "head", frames: [20, 20], size: 0, unit: "frames", key }),
    ).toHaveLength(2);
  });
});

test("of one tier what is seen most plainly speaks, however far the other is past its limit", () => {
  const key = { channel: "rotation.x", index: 3 } as const;
  const lean: Drawn = { check: "off-balance", node: "hips", frames: [20, 80], size: 0.05, key };
  const slide: Drawn = { check: "contact-slide", node: "foot_l", frames: [20, 22], size: 0.05, key };
  const both = [draft(lean), draft({ ...slide, key: { ...key, node: "hips" } })];
  const alone = both.map((one) => assembleNotes(study, [one])[0]);
  expect(alone[0].tier).toBe(alone[1].tier);
  // The slide weighs more; it is short, and at one foot.
  const heavy = { ...both[1], finding: { ...both[1].finding, excess: 40, size: 0.3 } };
  const [slipped] = assembleNotes(study, [heavy]);
  expect(slipped.weight).toBeGreaterThan(alone[0].weight);
  expect(slipped.rank?.plainness).toBeLessThan(alone[0].rank?.plainness ?? 0);
  expect(told(assembleNotes(study, [both[0], heavy]))).toEqual(["off-balance + contact-slide"]);
});

test("a freeze, however long, leaves the word to what is wrong with a limb in it", () => {
  const key = { channel: "rotation.x", index: 3, node: "hand_l" } as const;
  const freeze: Drawn = { check: "frozen-end", node: "hand_l", frames: [20, 90], size: 0.02, key };
  const lost: Drawn = { check: "merged-silhouette", node: "hand_l", frames: [20, 60], size: 0.05, key };
  const both = assembleNotes(study, [draft(freeze), draft(lost)]);
  expect(told(both)).toEqual(["merged-silhouette + frozen-end"]);
});

test("what is over where a figure freezes is told beside the freeze, though one key ends the one and begins the other", () => {
  const key = { channel: "rotation.x", index: 3, node: "hand_l" } as const;
  const drawn = draft({ check: "frozen-hold", node: "hand_l", frames: [20, 50], size: 0.02, key });
  const freeze = { ...drawn, finding: { ...drawn.finding, isOfFigure: true } };
  const toldWith = (from: number, to: number) =>
    told(assembleNotes(study, [freeze, draft({ check: "jitter", node: "hand_l", frames: [from, to], key })]));
  expect(toldWith(2, 20)).toHaveLength(2);
  expect(toldWith(20, 40)).toEqual(["jitter + frozen-hold"]);
});

test("a state with many keys does not speak for a moment at one of them, but at its first", () => {
  const key = (index: number) => ({
    node: "hips",
    channel: "translation.z" as const,
    frame: 20,
    share: 0.9,
    index,
  });
  const lean = draft({ check: "off-balance", node: "hips", frames: [10, 40] });
  const state = {
    ...lean,
    keys: [key(1), key(3), key(5)],
    finding: { ...lean.finding, fault: { kind: "keys" as const, keys: [key(1), key(3), key(5)] } },
  };
  const stopAt = (index: number) =>
    draft({
      check: "hard-stop",
      node: "hips",
      frames: [20, 20],
      size: 0.02,
      key: { channel: "translation.z", index },
    });
  const toldWith = (index: number) => told(assembleNotes(study, [state, stopAt(index)]));
  expect(toldWith(1)).toEqual(["off-balance + hard-stop"]);
  expect(toldWith(3)).toHaveLength(2);
});

test("how parts go together in a move does not speak for a slip of one of them within it", () => {
  const key = (index: number) => ({ channel: "rotation.x", index }) as const;
  const pop: Drawn = { check: "pop", node: "head", frames: [20, 20], size: 0.02, key: key(4) };
  for (const check of ["lone-joint", "same-frame"]) {
    expect(toldOf({ check, node: "head", frames: [12, 30], key: key(1) }, pop)).toHaveLength(2);
  }
  // A slip of the part itself does: what it shakes for half a second pops as well.
  const slip: Drawn = { check: "jitter", node: "head", frames: [12, 24], key: key(1) };
  expect(toldOf(slip, { ...pop, check: "kinked-path" })).toHaveLength(1);
});

test("what is next to a note that it would yield to, and comes from another channel's key, is told by itself", () => {
  const pop: Drawn = {
    check: "pop",
    node: "hand_l",
    frames: [19, 19],
    key: { channel: "rotation.y", index: 4 },
  };
  const halt: Drawn = {
    check: "hitch",
    node: "hand_l",
    frames: [20, 22],
    size: 0.04,
    key: { channel: "rotation.x", index: 4 },
  };
  expect(toldOf(pop, halt)).toHaveLength(2);
  expect(toldOf(pop, { ...halt, key: { channel: "rotation.y", index: 4 } })).toEqual(["hitch"]);
  expect(toldOf({ ...pop, frames: [20, 20] }, halt)).toEqual(["hitch"]);
});

test("a part that is wrong in another way and for another time is not of a moment's pose", () => {
  const halts = ["hand_l", "hand_r", "head"].map(
    (node): Drawn => ({
      check: "hitch",
      node,
      frames: [20, 22],
      key: { channel: "rotation.x", index: 4 },
    }),
  );
  const pop: Drawn = {
    check: "pop",
    node: "foot_l",
    frames: [19, 20],
    size: 0.02,
    key: { channel: "rotation.x", index: 4 },
  };
  expect(toldOf(...halts, pop)).toEqual(["hitch", "pop"]);
  expect(toldOf(...halts, { ...pop, frames: [20, 21] })).toEqual(["hitch"]);
});
test("what most of is gone with another fault's key is told with it, by trial", () => {
  // One pose of the upper arm stands out: the hand leaves its path, and the head, which hangs elsewhere, on its own.
  const curves = {
    "upper_arm_l rotation.z": everyFrame(1, 48, (f) => 20 * Math.sin(f / 9) + (f === 24 ? 25 : 0)),
    "head rotation.x": everyFrame(1, 48, (f) => 10 * Math.sin(f / 7) + (f === 25 ? 15 : 0)),
  };
  const notes = notesOf(studyOf(bipedDocument(curves)));
  const ofArm = notes.filter(({ keys }) => keys[0]?.node === "upper_arm_l");
  expect(ofArm).toHaveLength(1);
  expect(notes.some(({ keys }) => keys[0]?.node === "head")).toBe(true);
});

test("who speaks is never lighter than what is told with it, whatever two checks find", () => {
  const key = { channel: "rotation.x", index: 3 } as const;
  const light = (check: string): Drawn => ({ check, node: "hips", frames: [20, 22], size: 0.004, key });
  for (const { name } of registry) {
    for (const other of registry) {
      const pair = [light(name), { ...light(other.name), size: 0.3, frames: [21, 23] as const }];
      for (const { tier, weight, also = [] } of assembleNotes(study, pair.map(draft))) {
        for (const one of also) {
          expect(tiers.indexOf(tier)).toBeLessThanOrEqual(tiers.indexOf(one.tier));
          if (tier === one.tier) expect(weight).toBeGreaterThanOrEqual(one.weight);
        }
      }
    }
  }
});

/** What a part is asked for at samples 10 to 29: at some of them once, at the others as often as is said. */
function askedFor(often: (sample: number) => number): Draft {
  const still = draft({ check: "no-drag", node: "hand_l", frames: [10, 29], size: 0.02 });
  const by = rigOf(study).indexOf.get("forearm_l") as number;
  const weights = Float64Array.from({ length: 20 }, (_, k) => often(10 + k));
  return { ...still, finding: { ...still.finding, asked: { by, from: 10, weights, late: 6 } } };
}

describe("a part that does not answer", () => {
  const flip = draft({ check: "rotation-flip", node: "upper_arm_l", frames: [14, 16], size: 0.3 });
  const of = (...drafts: readonly Draft[]) => told(assembleNotes(study, drafts));

  test("is told with the slip of its carrier that alone asks it to", () => {
    expect(
      of(
        flip,
        askedFor((i) => (i >= 14 && i <= 20 ? 1 : 0)),
      ),
    ).toEqual(["rotation-flip + no-drag"]);
  });

  test("is told by itself where a sound move asks it as well", () => {
    expect(
      of(
        flip,
        askedFor(() => 1),
      ),
    ).toHaveLength(2);
  });

  test("is told by itself beside a slip of what does not carry it, or a state of what does", () => {
    const asked = askedFor((i) => (i >= 14 && i <= 20 ? 1 : 0));
    expect(
      of(
        { ...flip, finding: { ...flip.finding, node: rigOf(study).indexOf.get("hand_r") as number } },
        asked,
      ),
    ).toHaveLength(2);
    expect(of({ ...flip, finding: { ...flip.finding, from: 1, to: 60 } }, asked)).toHaveLength(2);
  });

  test("does not speak for the slip, however heavy it is", () => {
    const asked = askedFor((i) => (i >= 14 && i <= 20 ? 1 : 0));
    const small = draft({ check: "rotation-flip", node: "upper_arm_l", frames: [14, 16], size: 0.011 });
    const heavy = { ...asked, finding: { ...asked.finding, size: 0.02, excess: 30 } };
    expect(of(small, heavy)).toEqual(["rotation-flip + no-drag"]);
  });
});

test("a limb whose joints stop at one frame has one hard stop; one frame of parts apart, or a longer one, is another", () => {
  const stop: Drawn = { check: "hard-stop", node: "upper_arm_l", frames: [20, 20] };
  const end: Drawn = { check: "hard-stop", node: "forearm_l", frames: [21, 21], size: 0.04 };
  expect(toldOf(stop, end)).toEqual(["hard-stop + hard-stop"]);
  expect(toldOf(stop, { ...end, check: "kinked-path" })).toEqual(["hard-stop + kinked-path"]);
  expect(toldOf(stop, { ...end, node: "forearm_r" })).toHaveLength(2);
  expect(toldOf(stop, { ...end, check: "jitter", frames: [20, 40] })).toHaveLength(2);
});

test("what an arm does at one key is one note, and at a key ten frames on it is another", () => {
  const course = (second: number) =>
    everyFrame(1, 48, (f) => 20 * Math.sin(f / 9) + (f === 24 ? 25 : 0) + (f === 34 ? second : 0));
  const popsWith = (second: number) =>
    notesOf(studyOf(bipedDocument({ "upper_arm_l rotation.z": course(second) }))).filter(
      ({ keys }) => keys[0]?.node === "upper_arm_l",
    );
  expect(popsWith(0)).toHaveLength(1);
  expect(popsWith(25)).toHaveLength(2);
});

test("left that slides out by one key of the hips, and right that slides back by the next, are one", () => {
  const key = (index: number) => ({ channel: "rotation.y" as const, index, node: "hips" });
  const left: Drawn = { check: "contact-slide", node: "foot_l", frames: [20, 27], key: key(3) };
  const right: Drawn = { ...left, node: "foot_r", frames: [28, 35], size: 0.04, key: key(4) };
  expect(toldOf(left, right)).toEqual(["contact-slide + contact-slide"]);
  expect(toldOf(left, { ...right, key: key(9) })).toHaveLength(2);
  expect(toldOf(left, { ...right, frames: [40, 47] })).toHaveLength(2);
});

test("what comes from a slip's own node in the slip's frames is told with it", () => {
  const key = (index: number, node = "hips") => ({ channel: "translation.x" as const, index, node });
  const shake: Drawn = { check: "jitter", node: "hips", frames: [10, 30], key: key(3) };
  const slide: Drawn = { check: "contact-slide", node: "foot_l", frames: [14, 18], size: 0.02, key: key(5) };
  expect(toldOf(shake, slide)).toEqual(["jitter + contact-slide"]);
  expect(toldOf(shake, { ...slide, key: key(5, "thigh_l") })).toHaveLength(2);
  expect(toldOf(shake, { ...slide, frames: [26, 40] })).toHaveLength(2);
});

test("a waiver of one of several notes that are told together leaves the others open", () => {
  const waiver = { check: "raised-shoulders", node: "upper_arm_l", reason: "a shrug" };
  const waived = studyOf(bipedDocument({}));
  setWaiversBeside(waived, [waiver]);
  const sides: readonly Drawn[] = [
    { check: "raised-shoulders", node: "upper_arm_l", frames: [1, 40] },
    { check: "raised-shoulders", node: "upper_arm_r", frames: [1, 40], size: 0.04 },
  ];
  const review = reviewed(waived, assembleNotes(study, sides.map(draft)), settingsOf(waived).checks);
  expect(review.notes.map(({ node }) => node)).toEqual(["upper_arm_r"]);
  expect(review.waived.map(({ note }) => note.node)).toEqual(["upper_arm_l"]);
});

describe("the order of notes of one tier", () => {
  const alone = (drawn: readonly Drawn[]) => assembleNotes(study, drawn.map(draft)).map(({ node }) => node);
  const pop: Drawn = { check: "pop", node: "hand_l", frames: [20, 20], size: 0.2 };

  test("has the larger before the smaller, without an upper end", () => {
    const larger: Drawn = { ...pop, node: "hand_r", frames: [30, 30], size: 0.6 };
    expect(alone([pop, larger])).toEqual(["hand_r", "hand_l"]);
  });

  test("has what lasts before what does not", () => {
    const slide: Drawn = { check: "contact-slide", node: "foot_r", frames: [10, 60], size: 0.2 };
    expect(alone([pop, slide])).toEqual(["foot_r", "hand_l"]);
  });
});

/** A joint that swings to and fro in 24 frames, again and again, and sets off too far in each turn: by how far is said. */
const swinging = (...slips: readonly number[]) => {
  const turn = (frame: number) => {
    const at = (frame - 1) % 24;
    const slip = slips[Math.floor((frame - 1) / 24)] ?? 0;
    const set = at > 6 && at < 12 ? at - 6 : at < 12 ? 0 : (24 - at) / 2;
    return 20 * Math.sin((2 * Math.PI * at) / 24) + slip * set;
  };
  return notesOf(studyOf(chainDocument(3, { "joint_1 rotation.z": everyFrame(1, 97, turn) })));
};

test("the same slip in every turn of a cycle is one fault, and one that is not the same is another", () => {
  const framesOf = (notes: readonly Note[]) =>
    notes
      .filter(({ check }) => check === "spacing-jump")
      .map(({ frames, also = [] }) => [frames, ...also.map((other) => other.frames)].map(([from]) => from));
  expect(framesOf(swinging(4, 4, 4, 4))).toEqual([[13, 37, 61, 85]]);
  expect(framesOf(swinging(4, 2, 4, 2))).toEqual([[13, 61]]);
});

test("what lies far apart is one only where it is the same again, whatever the two are", () => {
  const channels = ["rotation.x", "translation.y"] as const;
  const anyDrawn = fc.record({
    check: fc.constantFrom(...registry.map(({ name }) => name)),
    node: fc.constantFrom("hips", "chest", "foot_l", "foot_r", "hand_l", "hand_r", "head"),
    start: fc.nat(95),
    lasts: fc.oneof(fc.nat(3), fc.nat(40)),
    size: fc.double({ min: 0.001, max: 1, noNaN: true }),
    channel: fc.constantFrom(...channels),
    index: fc.nat(3),
    keyed: fc.constantFrom("hips", "chest", "foot_l", "hand_r", null),
    tried: fc.constantFrom(0, 0.3, 0.9),
    unit: fc.constantFrom("m" as const, "frames" as const),
  });
  const drawn = ({
    start,
    lasts,
    channel,
    index,
    keyed,
    ...rest
  }: typeof anyDrawn extends fc.Arbitrary<infer T> ? T : never): Drawn => ({
    ...rest,
    frames: [start, Math.min(100, start + lasts)],
    ...(keyed === null ? {} : { key: { node: keyed, channel, index } }),
  });
  const far = farApart(study);
  let farPairs = 0;
  fc.assert(
    fc.property(fc.array(anyDrawn, { minLength: 6, maxLength: 12 }), (list) => {
      const groups = groupsOf(
        study,
        list.map((one) => draft(drawn(one))),
        [],
      );
      for (const a of groups) {
        for (const b of groups) {
          if (a === b || gapOf(a, b) <= far) continue;
          farPairs++;
          expect(isOneFromAfar(study, a, b)).toBe(isOne(study, a, b));
        }
      }
    }),
    { numRuns: 60 },
  );
  expect(farPairs).toBeGreaterThan(100);
});
