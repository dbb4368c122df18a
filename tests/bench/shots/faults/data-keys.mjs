// @ts-check
/**
 * Faults that lie in the keys and are hardly seen: keys between frames, crowded keys, curves that do nothing.
 * @import { ChannelName, FaultKind, KeyedShot, Place } from "../types.d.ts"
 */
import { cutAt, keyBefore, moves } from "./tools/curve.mjs";
import { jointsById, restOf } from "./tools/local.mjs";
import { curvesAt, drawn, framesAt24, jointsIn, placeOn, placesFrom, spotOf } from "./tools/where.mjs";

/** Keys of a joint's curves within the frames of a place. @param {KeyedShot} shot @param {Place} place */
const keysIn = (shot, place, margin = 0) =>
  curvesAt(shot, place).map((curve) =>
    curve.keys.filter(({ frame }) => frame >= place.from - margin && frame <= place.to + margin),
  );

/** @type {FaultKind} */
const keyOffFrame = {
  name: "key off frame",
  checks: ["key-off-frame"],
  unit: "frames from the nearest whole one",
  sizes: [
    { value: 0.1, reason: "4 ms: nobody sees it, but a key that is read back at its frame is not there." },
    {
      value: 0.25,
      reason: "A stretch that was scaled in time and not snapped: the extreme is never on screen.",
    },
    { value: 0.45, reason: "Half way between two frames: contacts and extremes fall between pictures." },
  ],
  layer: "keys",
  places: (clean, random) => {
    const { first, last } = clean.performance;
    const joints = jointsIn(clean);
    return placesFrom(
      drawn(random, [...joints, ...joints], ({ weight }) => weight),
      (one) => {
        const span = framesAt24(clean, random.integer(4, 24));
        const from = random.integer(first + 2, Math.max(first + 2, last - 2 - span));
        if (from + span > last - 2) return undefined;
        const place = placeOn(one, from, from + span, { sign: random.chance(0.5) ? 1 : -1 });
        return keysIn(clean, place).some((keys) => keys.length > 0) ? place : undefined;
      },
    );
  },
  edit: (shot, place, size) => {
    for (const keys of keysIn(shot, place)) {
      for (const key of keys) key.frame = Math.round(key.frame) + spotOf(place).sign * size;
    }
  },
  measure: ({ keyed }, place) =>
    Math.max(
      0,
      ...keysIn(keyed, place, 0.5)
        .flat()
        .map(({ frame }) => Math.abs(frame - Math.round(frame))),
    ),
};

/** Two keys nearer than this are crowded. */
const crowdedWithin = 0.5;

/** Pairs of neighbouring keys that stand within half a frame. @param {KeyedShot} shot @param {Place} place */
const crowdedPairs = (shot, place) =>
  keysIn(shot, place, 0.5)
    .map((keys) => keys.slice(1).filter((key, i) => key.frame - keys[i].frame <= crowdedWithin).length)
    .reduce((sum, count) => sum + count, 0);

/** @type {FaultKind} */
const crowdedKeys = {
  name: "crowded keys",
  checks: ["key-crowding", "key-off-frame"],
  unit: "pairs of keys within half a frame",
  sizes: [
    { value: 1, reason: "One doubled key: whoever moves it moves half of it." },
    { value: 3, reason: "A pose pasted beside itself: its handles fight." },
    { value: 6, reason: "All channels of a control doubled: the curve can't be edited any more." },
  ],
  layer: "keys",
  places: (clean, random) => {
    const { first, last } = clean.performance;
    const joints = jointsIn(clean);
    return placesFrom(
      drawn(random, [...joints, ...joints], ({ weight }) => weight),
      (one) => {
        const span = framesAt24(clean, 36);
        const from = random.integer(first + 2, Math.max(first + 2, last - 3 - span));
        const place = placeOn(one, from, Math.min(last - 3, from + span), { by: random.between(0.25, 0.42) });
        return keysIn(clean, place).flat().length >= 6 ? place : undefined;
      },
    );
  },
  edit: (shot, place, size) => {
    const by = /** @type {number} */ (place["by"]);
    // The earliest keys of the stretch, whatever their channels: a pose and then the next one.
    const found = curvesAt(shot, place)
      .flatMap((curve) => curve.keys.map(({ frame }) => ({ curve, frame })))
      .filter(({ frame }) => frame >= place.from && frame <= place.to)
      .sort((a, b) => a.frame - b.frame)
      .slice(0, size);
    for (const { curve, frame } of found) {
      const twin = curve.keys[keyBefore(curve, frame + by)].frame;
      if (twin > frame + 1e-6) continue;
      cutAt(curve, frame + by);
    }
  },
  measure: ({ keyed }, place) => crowdedPairs(keyed, place),
};

/** @type {FaultKind} */
const idleCurve = {
  name: "idle curve",
  checks: ["idle-curve"],
  unit: "keys that say nothing",
  sizes: [
    { value: 3, reason: "Keyed along with the rest and forgotten." },
    { value: 6, reason: "A channel that was keyed at every pose: it hides those that count." },
    { value: 12, reason: "A dozen like keys: a quarter of what the animator has to read on this control." },
  ],
  layer: "keys",
  places: (clean, random) => {
    const { first, last } = clean.performance;
    const joints = jointsIn(clean);
    return placesFrom(
      drawn(random, [...joints, ...joints], ({ weight }) => weight),
      (one) => {
        const free = idleChannels.filter((channel) => !clean.curves.has(`${one.joint} ${channel}`));
        if (free.length === 0 || last - first < 24) return undefined;
        return placeOn(one, first, last, { channel: random.pick(free) });
      },
    );
  },
  edit: (shot, place, size) => {
    const { channel } = spotOf(place);
    const joint = place.joint;
    const { from, to } = place;
    const rest = restOf(jointsById(shot.performance.figures).get(joint), channel);
    const frames = Array.from({ length: size }, (_, i) =>
      Math.round(from + ((to - from) * (i + 0.5)) / size),
    );
    const { interpolation } = shot.style;
    shot.curves.set(`${joint} ${channel}`, {
      joint,
      channel,
      interpolation: interpolation === "bezier" ? "smooth" : interpolation,
      keys: frames.map((frame) => ({ frame, value: rest })),
    });
  },
  measure: ({ keyed }, place) => {
    const curve = keyed.curves.get(`${place.joint} ${spotOf(place).channel}`);
    return curve === undefined || moves(curve) ? 0 : curve.keys.length;
  },
};

/** @type {readonly ChannelName[]} */
const idleChannels = [
  "rotation.x",
  "rotation.y",
  "rotation.z",
  "translation.x",
  "translation.y",
  "translation.z",
  "scale.x",
  "scale.y",
  "scale.z",
];

/** @type {FaultKind[]} */
export const keyFaults = [keyOffFrame, crowdedKeys, idleCurve];
