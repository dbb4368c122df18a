// @ts-check
/**
 * A keyed shot as a curve document: names, units, the up axis, and what is declared.
 * @import { ChannelName, Dressing, Key, KeyedCurve, KeyedShot, Performance } from "../types.d.ts"
 */
import { rigOf } from "../motion/rig.mjs";
import { contactsOf, partsOf, propulsorsOf } from "./parts.mjs";
import { isStaged, looksOf, seenBy } from "./view.mjs";

/** Nine decimals: what a unit's factor leaves behind them is noise. @param {number} value */
const tidy = (value) => Math.round(value * 1e9) / 1e9 + 0;

/**
 * The document's name of every joint and prop.
 * @param {KeyedShot} shot @param {Dressing} dressing
 * @returns {Map<string, string>} our id → the document's
 * @throws {Error} where two would have the same name
 */
export function namesOf({ performance }, dressing) {
  const nodeOf = new Map(rigOf(performance).ids.map((id) => [id, dressing.rename(id)]));
  if (new Set(nodeOf.values()).size !== nodeOf.size) throw new Error("Two joints would have the same name.");
  return nodeOf;
}

/**
 * The document of a shot.
 * @param {KeyedShot} shot @param {Dressing} dressing @param {string} name
 * @param {Performance} clean the performance without faults: what is declared is what was meant
 * @returns {Record<string, unknown>}
 */
export function documentOf(shot, dressing, name, clean) {
  const { performance } = shot;
  const rig = rigOf(performance);
  const nodeOf = namesOf(shot, dressing);
  const node = (/** @type {string} */ id) => /** @type {string} */ (nodeOf.get(id));
  const things = performance.props.filter(({ staged = false }) => !staged);
  const shapes = new Map(things.map(({ id, half }) => [id, shapeOf(half, axesOf(dressing), dressing)]));
  const looks = looksOf(performance, dressing);
  const nodes = rig.ids.map((id, i) => {
    const parent = rig.parent[i];
    const axes = axesOf(dressing, isStaged(performance, id));
    const turns = axes.turnsRoots && parent < 0;
    const at = axes.vector([...rig.at.subarray(3 * i, 3 * i + 3)], parent < 0);
    const order = axes.order(rig.order[i]);
    return {
      id: node(id),
      ...(parent < 0 ? {} : { parent: node(rig.ids[parent]) }),
      translation: at.map((part) => tidy(part / dressing.metresPerUnit)),
      ...(turns ? { fixedRotation: [Math.SQRT1_2, 0, 0, Math.SQRT1_2] } : {}),
      ...(order === "xyz" ? {} : { rotationOrder: order }),
      ...(shapes.has(id) ? { shapes: [shapes.get(id)] } : {}),
      ...looks(id),
    };
  });
  const curves = [];
  for (const id of rig.ids) {
    for (const channel of channels) {
      const curve = shot.curves.get(`${id} ${channel}`);
      if (curve === undefined) continue;
      const isRoot = rig.parent[rig.require(id)] < 0;
      const axes = axesOf(dressing, isStaged(performance, id));
      curves.push(dressed(curve, node(id), axes.channel(channel, isRoot), dressing));
    }
  }
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name, frameRate: performance.rate, range: [performance.first, performance.last] },
    ...spaceOf(dressing),
    nodes,
    ...declared(clean, dressing, node),
    ...seenBy(performance, dressing, node),
    curves,
  };
}

/** @type {readonly ChannelName[]} */
const channels = /** @type {ChannelName[]} */ (
  ["translation", "rotation", "scale"].flatMap((kind) => [..."xyz"].map((axis) => `${kind}.${axis}`))
);

/** @param {Dressing} dressing */
function spaceOf({ metresPerUnit, declaresUnit, up }) {
  const space = { ...(declaresUnit ? { metresPerUnit } : {}), ...(up === "y" ? {} : { up }) };
  return Object.keys(space).length === 0 ? {} : { space };
}

/**
 * How our axes go over to the document's. For z up, x stays, y becomes z, z becomes −y: either in every joint's own space, or
 * for the roots' places alone, with a fixed turn in front of their rotations.
 * @param {Pick<Dressing, "up" | "turnsRoots">} dressing
 * @param {boolean} [keepsAxes] of a node whose own axes stay y up, whatever the others do: a camera looks along its own −z
 */
export function axesOf({ up, turnsRoots: turnsAll = false }, keepsAxes = false) {
  const plain = up === "y";
  const turnsRoots = turnsAll || keepsAxes;
  const turned = (/** @type {boolean} */ isRoot) => !plain && (isRoot || !turnsRoots);
  return {
    turnsRoots: !plain && turnsRoots,
    vector: (/** @type {number[]} */ [x, y, z], /** @type {boolean} */ isRoot) =>
      turned(isRoot) ? [x, -z, y] : [x, y, z],
    order: (/** @type {string} */ order) =>
      plain || turnsRoots ? order : order.replace(/[yz]/g, (axis) => (axis === "y" ? "z" : "y")),
    channel: (/** @type {ChannelName} */ channel, /** @type {boolean} */ isRoot) => {
      const [kind, axis] = channel.split(".");
      const swaps = kind === "translation" ? turned(isRoot) : !plain && !turnsRoots;
      if (!swaps || axis === "x") return { name: channel, sign: 1 };
      const isFlipped = axis === "z" && kind !== "scale";
      return { name: `${kind}.${axis === "y" ? "z" : "y"}`, sign: isFlipped ? -1 : 1 };
    },
  };
}

/** A prop's box in its own space. @param {import("../types.d.ts").Vector} half metres
 * @param {ReturnType<typeof axesOf>} axes @param {Dressing} dressing */
function shapeOf(half, axes, { metresPerUnit }) {
  const size = axes.vector([...half], false).map((part) => tidy((2 * Math.abs(part)) / metresPerUnit));
  return { kind: "box", size };
}

/** @param {KeyedCurve} curve @param {string} node @param {{ name: string, sign: number }} channel @param {Dressing} dressing */
function dressed({ interpolation, keys }, node, { name, sign }, { metresPerUnit }) {
  const factor = name.startsWith("translation") ? sign / metresPerUnit : sign;
  const handle = (/** @type {[number, number]} */ [frames, value]) => [tidy(frames), tidy(value * factor)];
  const entry = (/** @type {Key} */ key) => {
    const extras = {
      ...(key.in === undefined ? {} : { in: handle(key.in) }),
      ...(key.out === undefined ? {} : { out: handle(key.out) }),
      ...(key.interpolation === undefined ? {} : { interpolation: key.interpolation }),
    };
    const plain = [tidy(key.frame), tidy(key.value * factor)];
    return Object.keys(extras).length === 0 ? plain : [...plain, extras];
  };
  return { node, channel: name, interpolation, keys: keys.map(entry) };
}

/** The id of what a figure stands on that high above the ground. @param {number} above metres */
const ledgeAt = (above) => `ledge ${Math.round(100 * above)}`;

/** @param {Performance} clean @param {Dressing} dressing @param {(id: string) => string} node */
function declared(clean, dressing, node) {
  const { up, metresPerUnit, declaresFigures, declaresGround, declaresContacts, declaresProps } = dressing;
  const named = (/** @type {string | string[]} */ part) =>
    Array.isArray(part) ? part.map(node) : node(part);
  /** @type {Record<string, unknown>} */
  const said = {};
  if (declaresFigures) {
    said["figures"] = clean.figures.map(({ id, body }) => ({
      id,
      parts: Object.fromEntries(Object.entries(partsOf(body)).map(([part, joints]) => [part, named(joints)])),
      stature: tidy(Math.round(body.stature * 1000) / 1000),
      mass: Math.round(body.mass * 10) / 10,
    }));
    const propulsors = propulsorsOf(clean).map(({ figure, nodes, channel }) => {
      const { name } = axesOf(dressing).channel(/** @type {ChannelName} */ (channel), false);
      return { figure, nodes: nodes.map(node), channel: name };
    });
    if (propulsors.length > 0) said["propulsors"] = propulsors;
  }
  const plants = declaresContacts ? contactsOf(clean) : [];
  const things = clean.props.filter(({ staged = false }) => !staged);
  if (declaresProps && things.length > 0) {
    said["props"] = things.map(({ id, mass }) => ({ node: node(id), mass: Math.round(mass * 10) / 10 }));
  }
  if (declaresGround || declaresContacts) {
    const normal = up === "y" ? [0, 1, 0] : [0, 0, 1];
    const ledges = new Map(
      plants.filter(({ above }) => above > 0).map(({ above }) => [ledgeAt(above), above]),
    );
    said["surfaces"] = [["floor", 0], ...ledges].map(([id, above]) => ({
      id,
      normal,
      height: tidy((clean.ground.height + Number(above)) / metresPerUnit),
    }));
  }
  if (declaresContacts) {
    const contacts = plants.map(({ node: joint, with: on, frames, above }) => ({
      node: node(joint),
      with: on !== null ? node(on) : above > 0 ? ledgeAt(above) : "floor",
      frames,
    }));
    if (contacts.length > 0) said["contacts"] = contacts;
  }
  return said;
}
