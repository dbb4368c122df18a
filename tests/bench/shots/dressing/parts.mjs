// @ts-check
/**
 * What a document declares of its figures: parts, contacts, propulsors.
 * @import { Body, Limb, Performance } from "../types.d.ts"
 */
import { rotate } from "../../../../demo/motion/vector.mjs";
import { densePosesOf } from "../poses.mjs";

/**
 * A body's parts as documents name them; by our ids.
 * @param {Body} body
 * @returns {Record<string, string | string[]>}
 */
export function partsOf(body) {
  const { root, trunk, head, limbs, joints } = body;
  /** @type {Record<string, string | string[]>} */
  const parts = { root };
  const above = trunk.filter((joint) => joint !== root);
  if (above.length > 0) parts["chest"] = above[above.length - 1];
  if (above.length > 1) parts["spine"] = above.length === 2 ? above[0] : above.slice(0, -1);
  if (head !== null) parts["head"] = head;
  const parentOf = new Map(joints.map(({ id, parent }) => [id, parent]));
  const necks = [];
  for (let at = head === null ? null : (parentOf.get(head) ?? null); at !== null && !trunk.includes(at); ) {
    necks.unshift(at);
    at = parentOf.get(at) ?? null;
  }
  if (necks.length > 0) parts["neck"] = necks.length === 1 ? necks[0] : necks;
  for (const limb of limbs) addLimb(parts, limb, body, parentOf);
  return parts;
}

/** @param {Record<string, string | string[]>} parts @param {Limb} limb @param {Body} body
 * @param {ReadonlyMap<string, string | null>} parentOf */
function addLimb(parts, limb, { plan, trunk, head }, parentOf) {
  const { kind, side, joints, girdle, fingers } = limb;
  const isFore = plan === "four legs" && trunk.indexOf(girdle) >= trunk.length / 2;
  if (kind === "arm" || (kind === "leg" && isFore)) {
    if (side === "middle") return;
    const above = parentOf.get(joints[0]) ?? null;
    if (above !== null && above !== head && !trunk.includes(above)) parts[`${side}Shoulder`] = above;
    ["UpperArm", "Forearm", "Hand"].forEach((part, n) => {
      if (joints[n] !== undefined) parts[`${side}${part}`] = joints[n];
    });
    const digits = fingers?.flat() ?? joints.slice(3);
    if (digits.length > 0) parts[`${side}Fingers`] = digits;
  } else if (kind === "leg" && side !== "middle" && plan !== "six legs" && plan !== "eight legs") {
    ["Thigh", "Shin", "Foot"].forEach((part, n) => {
      if (joints[n] !== undefined) parts[`${side}${part}`] = joints[n];
    });
    if (joints.length > 3) parts[`${side}Toes`] = joints.length === 4 ? joints[3] : joints.slice(3);
  } else if (kind === "wing" && side !== "middle") parts[`${side}Wing`] = [...joints];
  else if (kind === "tail") parts["tail"] = [...joints];
  else if (kind === "loose") {
    const part = /ear/.test(joints[0]) ? "ears" : /hair|plait|mane/.test(joints[0]) ? "hair" : null;
    if (part !== null) parts[part] = [...(parts[part] ?? []), ...joints];
  }
}

/**
 * Frames on which joints stand, as somebody would declare them who looks at the clean shot: stretches within a plant in which
 * the foot's or the toes' joint moves less than a millimetre per frame; and hands on props.
 * @param {Performance} clean
 * @returns {{ node: string, with: string | null, frames: [number, number], above: number }[]} by our ids; null: what the
 * figure stands on, so high above the ground (metres): 0 on the ground itself
 */
export function contactsOf(clean) {
  const poses = densePosesOf(clean);
  /** @type {{ node: string, with: string | null, frames: [number, number], above: number }[]} */
  const contacts = [];
  for (const event of clean.events) {
    if (event.kind !== "plant" && event.kind !== "hold-prop") continue;
    const figure = clean.figures.find(({ id }) => id === event.figure);
    if (event.kind === "hold-prop") {
      for (const index of event.limbs) {
        const limb = figure?.body.limbs[index];
        if (limb === undefined) continue;
        const node =
          limb.joints[limb.kind === "arm" ? Math.min(2, limb.joints.length - 1) : limb.joints.length - 1];
        contacts.push({ node, with: event.prop, frames: [event.from, event.to], above: 0 });
      }
      continue;
    }
    const sole = figure?.body.limbs[event.limb]?.sole;
    if (figure === undefined || sole === undefined) continue;
    const middle = Math.round((Math.max(event.from, clean.first) + Math.min(event.to, clean.last)) / 2);
    const above = levelAt(poses, sole, middle) - clean.ground.height;
    // Lower than an ankle is no ledge: the foot rolls there.
    const onLedge = above > 0.04 * figure.body.stature;
    for (const node of new Set([sole.foot, sole.tip])) {
      const frames = stillest(poses, node, Math.max(event.from, clean.first), Math.min(event.to, clean.last));
      if (frames !== null) contacts.push({ node, with: null, frames, above: onLedge ? above : 0 });
    }
  }
  return contacts;
}

/** Height of the lower end of a sole. @param {import("../types.d.ts").Poses} poses @param {NonNullable<Limb["sole"]>} sole
 * @param {number} frame */
function levelAt(poses, { foot, tip, heel, toe }, frame) {
  const height = (/** @type {string} */ joint, /** @type {readonly number[]} */ at) =>
    poses.position(joint, frame)[1] + rotate([...poses.orientation(joint, frame)], [...at])[1];
  return Math.min(height(foot, heel), height(tip, toe));
}

/** The longest stretch, of two frames at least, in which a joint moves less than a millimetre per frame.
 * @param {import("../types.d.ts").Poses} poses @param {string} joint @param {number} from @param {number} to
 * @returns {[number, number] | null} */
function stillest(poses, joint, from, to) {
  /** @type {[number, number] | null} */
  let best = null;
  let start = from;
  for (let frame = from + 1; frame <= to + 1; frame++) {
    const [a, b] = [poses.position(joint, frame - 1), poses.position(joint, frame)];
    const still = frame <= to && Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) < 0.001;
    if (still) continue;
    if (frame - 1 > start && (best === null || frame - 1 - start > best[1] - best[0]))
      best = [start, frame - 1];
    start = frame;
  }
  return best;
}

/**
 * Limbs that beat, and the channel that beats most.
 * @param {Performance} clean
 * @returns {{ figure: string, nodes: string[], channel: string }[]} by our ids
 */
export function propulsorsOf(clean) {
  return clean.figures.flatMap(({ id, body }) => {
    const limbs = new Set(
      clean.events.flatMap((event) => (event.kind === "beat" && event.figure === id ? event.limbs : [])),
    );
    if (limbs.size === 0) return [];
    const nodes = [...limbs].map((index) => body.limbs[index].joints[0]);
    const range = (/** @type {string} */ axis) => {
      const track = clean.tracks.get(`${nodes[0]} rotation.${axis}`);
      return track === undefined ? 0 : Math.max(...track) - Math.min(...track);
    };
    const axis = [..."xyz"].reduce((best, one) => (range(one) > range(best) ? one : best));
    return [{ figure: id, nodes, channel: `rotation.${axis}` }];
  });
}
