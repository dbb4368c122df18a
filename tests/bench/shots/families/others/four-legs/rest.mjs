// @ts-check
/**
 * A dog or a cat sits down, in some shots lies down from there, rests, and gets up again.
 * @import { Performance, Random } from "../../../types.d.ts"
 * @import { Plant } from "../tools/legs.mjs"
 */
import { stepEvents } from "../tools/gait.mjs";
import { Lane } from "../tools/lane.mjs";
import { fourLegStage, holdHead, turnHead } from "./stage.mjs";
import { lookRound } from "./walk.mjs";

/** @param {Random} random @param {number} frames @returns {Performance} */
export function restOfFourLegs(random, frames) {
  const stage = fourLegStage(random, frames, {
    builds: ["dog", "dog", "cat"],
    turned: 0,
    seconds: () => 2.3,
  });
  const { first, last, rate, size, neutral, lane, id, named, events } = stage;
  const seconds = (/** @type {number} */ value) => Math.round(value * rate);
  /** @type {Map<number, Plant[]>} */
  const falls = new Map(
    [0, 1, 2, 3].map((limb) => {
      const { at, yaw } = neutral(limb)(0);
      return [limb, [{ from: first, to: last, at, yaw }]];
    }),
  );
  const leans = [0, 1, 2, 3].map(() => new Lane());
  const splays = [0, 1].map(() => new Lane());
  const blade = new Lane();
  const [sine, cosine] = [
    Math.sin((neutral(0)(0).yaw * Math.PI) / 180),
    Math.cos((neutral(0)(0).yaw * Math.PI) / 180),
  ];
  /** A step of a paw that stands. @param {number} limb @param {number} from @param {number} took @param {number} ahead */
  const step = (limb, from, took, ahead) => {
    const plants = falls.get(limb) ?? [];
    const stands = plants[plants.length - 1];
    const forward = Math.abs(ahead) / size;
    Object.assign(stands, { to: from, lift: size * (0.035 + 0.08 * forward), push: 6, roll: 3, curl: 14 });
    const [x, y, z] = stands.at;
    plants.push({
      from: from + took,
      to: last,
      at: [x + ahead * sine, y, z + ahead * cosine],
      yaw: stands.yaw,
    });
  };
  const start = first + Math.min(seconds(random.between(0.4, 1)), Math.round(frames * 0.15));
  const slow = random.between(0.9, 1.15);
  const down = Math.min(seconds(1.05 * slow), Math.round(frames * 0.26));
  const up = Math.min(seconds(0.95 * slow), Math.round(frames * 0.24));
  const sits = start + down;
  const lies = random.chance(0.5) && last - sits > up + seconds(4);
  const getsUp = last - sits > up + seconds(1.1);
  const rises = getsUp
    ? Math.max(sits + seconds(0.7), last - up - seconds(random.between(0.4, 1.2)))
    : last + seconds(1);
  const sign = random.pick([0, 1]);

  // Sitting: the hindquarters sink between the hind paws, which step under the body; the chest stays over its legs.
  const pitches = { pelvis: -38 + random.between(-2, 2), spine_a: -4, spine_b: -1, spine_c: 4, chest: 7 };
  const sat = chestAt(stage, pitches);
  const depth = sat.up + 0.08 * size;
  const forward = stage.reach - sat.ahead + 0.035 * size;
  const tails = stage.build === "cat" ? [46, 13, 8, 6, 5] : [36, 8, 4, 3, 2];
  const tuck = forward + 0.11 * size;
  /** @param {number} from @param {number} took @param {1 | -1} way 1 down */
  const sitting = (from, took, way) => {
    const to = from + took;
    // A short act has short offsets.
    const brief = Math.min(1, took / 26);
    lane("pelvis", "ty").move(from, to, -depth * way);
    lane("pelvis", "tz").move(from, to + 1, forward * way);
    Object.entries(pitches).forEach(([joint, pitch], n) => {
      lane(joint, "x").move(from + n * 0.7 * brief, to - 1 + n * brief, pitch * way);
    });
    lane("neck_a", "x").move(from + 2, to + 4, 13 * way);
    lane("head", "x").move(from + 3, to + 6, 12 * way);
    blade.move(from + 2, to + 2, 20 * way);
    for (const limb of [0, 1]) {
      leans[limb].move(from + (limb === sign ? 0 : 1), to + 1, way);
      splays[limb].move(from + (limb === sign ? 0 : 1), to + 1, 0.55 * way);
    }
    // The head dips to keep the balance while the weight goes over the fore legs.
    lane("neck_b", "x").bump(from - 2, from + 0.45 * took, to + 6, 9);
    lane("pelvis", "tx").bump(from, from + 0.5 * took, to + 4, 0.008 * size * (sign === 0 ? -1 : 1));
    // The body gives a little when it comes to rest.
    if (way > 0) lane("pelvis", "ty").bump(to - 3, to + 3, to + 14, -0.012 * size);
    for (let n = 1; n <= 5; n++) lane(`tail_${n}`, "x").move(from - 2 + n, to - 2 + n, tails[n - 1] * way);
    events.push({
      kind: "move",
      name: way > 0 ? "sit down" : "get up",
      figure: id,
      joints: ["pelvis", ...stage.spine].map(named),
      from,
      peak: Math.round(from + took / 2),
      to: Math.min(last, to + 3),
    });
  };
  sitting(start, down, 1);
  const took = Math.max(4, Math.round(0.26 * down));
  step(sign, start + Math.round(0.16 * down), took, tuck);
  step(1 - sign, start + Math.round(0.5 * down), took, tuck * random.between(0.9, 1.1));
  let free = sits + 4;
  if (lies) free = lieDown();
  if (getsUp) getUp();
  function getUp() {
    sitting(rises, up, -1);
    const rising = Math.max(4, Math.round(0.26 * up));
    step(1 - sign, rises + Math.round(0.3 * up), rising, -tuck);
    step(sign, rises + Math.round(0.62 * up), rising, -tuck * random.between(0.9, 1.1));
  }

  /** Lying: the fore paws walk forward, the chest sinks; and back. @returns {number} the frame from which the animal rests */
  function lieDown() {
    const from = sits + seconds(random.between(0.25, 0.5));
    const span = seconds(0.95 * slow);
    const back = seconds(0.9 * slow);
    const leaves = rises - back - 2;
    const far = 0.5 * size;
    for (const [begin, length, way] of /** @type {const} */ ([
      [from, span, 1],
      [leaves, back, -1],
    ])) {
      lane("pelvis", "x").move(begin, begin + length, (30 - 2) * way);
      lane("pelvis", "ty").move(begin + 1, begin + length, -0.1 * size * way);
      lane("pelvis", "tz").move(begin, begin + length, -0.03 * size * way);
      blade.move(begin, begin + length, 14 * way);
      lane("tail_1", "x").move(begin + 1, begin + length + 2, -18 * way);
      for (const limb of [0, 1]) splays[limb].move(begin, begin + length, 0.45 * way);
      lane("spine_c", "x").move(begin + 1, begin + length + 1, -3 * way);
      lane("neck_a", "x").move(begin + 2, begin + length + 3, -16 * way);
      lane("head", "x").move(begin + 3, begin + length + 5, -6 * way);
      lane("neck_b", "x").bump(begin, begin + 0.45 * length, begin + length + 5, 10);
      for (const limb of [2, 3]) leans[limb].move(begin, begin + length, way);
      const lead = way > 0 ? 2 + sign : 3 - sign;
      const took = Math.max(4, Math.round(0.32 * length));
      // Down on paws that have gone ahead; up before they come back.
      const [early, late] = way > 0 ? [0.08, 0.46] : [0.36, 0.68];
      step(lead, begin + Math.round(early * length), took, far * way);
      step(5 - lead, begin + Math.round(late * length), took, far * way);
      events.push({
        kind: "move",
        name: way > 0 ? "lie down" : "rise to sit",
        figure: id,
        joints: ["pelvis", ...stage.spine].map(named),
        from: begin,
        peak: Math.round(begin + length / 2),
        to: Math.min(last, begin + length + 3),
      });
    }
    return from + span + 6;
  }

  const calm = !getsUp ? last : lies ? rises - seconds(0.95 * slow) - 8 : rises - 3;
  if (calm - free > 8) {
    events.push({
      kind: "hold",
      figure: id,
      joints: ["pelvis", ...stage.spine].map(named),
      from: free,
      to: calm,
      moving: true,
    });
  }
  const turning = Math.round(rate * 0.45);
  if (calm - free > turning + 8) {
    const yaw = random.between(20, 42) * random.pick([-1, 1]);
    turnHead(stage, free + 2, turning, yaw, random.between(-6, 4), "look");
    holdHead(stage, free + turning + 6, calm);
    if (getsUp) turnHead(stage, rises + 2, turning, -yaw, 0, "turn of the head");
  }
  if (getsUp) lookRound(stage, rises + up + 4, random);
  events.push(...stepEvents(id, falls, true));
  const score = stage.score({
    along: () => 0,
    falls,
    lean: (limb, frame) => leans[limb].at(frame),
    splay: (limb, frame) => splays[limb].at(frame),
    blade: (frame) => blade.at(frame),
  });
  return stage.made(score);
}

/** Where the chest is, seen from the pelvis, when the trunk is bent. @param {any} stage
 * @param {Record<string, number>} pitches degrees */
function chestAt({ body, named, spine }, pitches) {
  let [turned, up, ahead] = [0, 0, 0];
  ["pelvis", ...spine].forEach((joint, n, list) => {
    turned += (pitches[joint] * Math.PI) / 180;
    const next = list[n + 1];
    if (next === undefined) return;
    const at = body.joints.find((/** @type {{ id: string }} */ one) => one.id === named(next)).at;
    up += at[1] * Math.cos(turned) - at[2] * Math.sin(turned);
    ahead += at[1] * Math.sin(turned) + at[2] * Math.cos(turned);
  });
  return { up, ahead };
}
