// @ts-check
/**
 * All joints and props of a performance in flat arrays, parents before children, and their poses by forward kinematics.
 * @import { Figure, Joint, Performance, Prop } from "../types.d.ts"
 */

/**
 * @typedef {object} Rig
 * @property {readonly string[]} ids parents before children; props behind the joints
 * @property {ReadonlyMap<string, number>} index
 * @property {(id: string) => number} require index of an id; throws for one that is not there
 * @property {Int32Array} parent -1 for roots and props
 * @property {Float64Array} at rest translation, 3 per joint, metres
 * @property {readonly string[]} order rotation order per joint
 * @property {readonly (readonly [string, string, string])[]} rotations names of the three rotation tracks
 * @property {readonly (readonly [string, string, string])[]} translations
 * @property {readonly (readonly [string, string, string])[]} scales
 * @property {Float64Array} massAt where the joint's own segment has its centre, 3 per joint, in the joint's space
 * @property {Float64Array} mass share of the figure's mass, per joint
 * @property {ReadonlyMap<string, readonly number[]>} jointsOf indices of a figure's joints
 */

/** @type {WeakMap<readonly Figure[], { props: readonly Prop[], rig: Rig }>} */
const known = new WeakMap();

/**
 * The rig of a performance; worked out once for its figures and props.
 * @param {Pick<Performance, "figures" | "props">} performance
 * @returns {Rig}
 * @throws {Error} where two joints share an id or a parent is missing
 */
export function rigOf({ figures, props }) {
  const before = known.get(figures);
  if (before !== undefined && before.props === props) return before.rig;
  const rig = builtRig(figures, props);
  known.set(figures, { props, rig });
  return rig;
}

/** @param {readonly Figure[]} figures @param {readonly Prop[]} props @returns {Rig} */
function builtRig(figures, props) {
  /** @type {Joint[]} */
  const joints = figures.flatMap(({ body }) => parentsFirst(body.joints));
  for (const { id, order = "xyz" } of props) joints.push({ id, parent: null, at: [0, 0, 0], order });
  const ids = joints.map(({ id }) => id);
  const index = new Map(ids.map((id, i) => [id, i]));
  if (index.size !== ids.length) {
    const twice = ids.find((id, i) => ids.indexOf(id) !== i);
    throw new Error(`Two joints are called "${twice}"; ids must be unique in a shot.`);
  }
  const require = (/** @type {string} */ id) => {
    const found = index.get(id);
    if (found === undefined) throw new Error(`There is no joint or prop "${id}" in this performance.`);
    return found;
  };
  const named = (/** @type {string} */ kind) =>
    ids.map((id) => /** @type {const} */ ([`${id} ${kind}.x`, `${id} ${kind}.y`, `${id} ${kind}.z`]));
  const rig = {
    ids,
    index,
    require,
    parent: Int32Array.from(joints, ({ parent }) => (parent === null ? -1 : require(parent))),
    at: Float64Array.from(joints.flatMap(({ at }) => [...at])),
    order: joints.map(({ order }) => order),
    rotations: named("rotation"),
    translations: named("translation"),
    scales: named("scale"),
    massAt: new Float64Array(3 * ids.length),
    mass: new Float64Array(ids.length),
    jointsOf: new Map(figures.map(({ id, body }) => [id, body.joints.map((joint) => require(joint.id))])),
  };
  placeMasses(figures, rig);
  return rig;
}

/** @param {readonly Joint[]} joints @returns {Joint[]} */
function parentsFirst(joints) {
  const byId = new Map(joints.map((joint) => [joint.id, joint]));
  /** @type {Set<Joint>} */
  const done = new Set();
  const visit = (/** @type {Joint} */ joint, /** @type {number} */ depth) => {
    if (done.has(joint)) return;
    if (depth > joints.length) throw new Error(`The parents of "${joint.id}" go round in a circle.`);
    if (joint.parent !== null) {
      const parent = byId.get(joint.parent);
      if (parent === undefined)
        throw new Error(`"${joint.id}" hangs on "${joint.parent}", which is not there.`);
      visit(parent, depth + 1);
    }
    done.add(joint);
  };
  for (const joint of joints) visit(joint, 0);
  return [...done];
}

/**
 * A segment's mass lies half way from its joint to the mean of the joints that hang on it; that of a last joint lies in
 * the joint itself. (Real segments have their centres at 41 to 58 % of their length, de Leva 1996: half is near enough
 * where a body does not say it.)
 * @param {readonly Figure[]} figures @param {Rig} rig
 */
function placeMasses(figures, rig) {
  const children = new Int32Array(rig.ids.length);
  rig.parent.forEach((parent, joint) => {
    if (parent < 0) return;
    children[parent]++;
    for (let k = 0; k < 3; k++) rig.massAt[3 * parent + k] += rig.at[3 * joint + k];
  });
  for (let i = 0; i < rig.ids.length; i++) {
    if (children[i] > 0) for (let k = 0; k < 3; k++) rig.massAt[3 * i + k] /= 2 * children[i];
  }
  for (const { body } of figures) {
    for (const [joint, share] of Object.entries(body.masses)) rig.mass[rig.require(joint)] = share;
    for (const [joint, at] of Object.entries(body.massAt ?? {})) rig.massAt.set(at, 3 * rig.require(joint));
  }
}

const half = Math.PI / 360;
const axisOf = (/** @type {string} */ order, /** @type {number} */ n) => order.charCodeAt(n) - 120;

/**
 * Three axis rotations as a quaternion: "zxy" is Rz · Rx · Ry.
 * @param {string} order @param {ArrayLike<number>} angles degrees about x, y, z @param {number} from index of x in `angles`
 * @param {Float64Array} out x, y, z, w @param {number} to index of x in `out`
 */
export function quaternionInto(order, angles, from, out, to) {
  let x = 0;
  let y = 0;
  let z = 0;
  let w = 1;
  for (let n = 0; n < 3; n++) {
    const axis = axisOf(order, n);
    const angle = angles[from + axis] * half;
    if (angle === 0) continue;
    const s = Math.sin(angle);
    const c = Math.cos(angle);
    const [px, py, pz, pw] = [x, y, z, w];
    if (axis === 0) {
      x = px * c + pw * s;
      y = py * c + pz * s;
      z = pz * c - py * s;
      w = pw * c - px * s;
    } else if (axis === 1) {
      x = px * c - pz * s;
      y = py * c + pw * s;
      z = pz * c + px * s;
      w = pw * c - py * s;
    } else {
      x = px * c + py * s;
      y = py * c - px * s;
      z = pz * c + pw * s;
      w = pw * c - pz * s;
    }
  }
  out[to] = x;
  out[to + 1] = y;
  out[to + 2] = z;
  out[to + 3] = w;
}

/** out = a · b for quaternions at places of arrays; `out` may be neither. @param {ArrayLike<number>} a @param {number} i
 * @param {ArrayLike<number>} b @param {number} j @param {Float64Array} out @param {number} k */
export function multiplyInto(a, i, b, j, out, k) {
  const [ax, ay, az, aw] = [a[i], a[i + 1], a[i + 2], a[i + 3]];
  const [bx, by, bz, bw] = [b[j], b[j + 1], b[j + 2], b[j + 3]];
  out[k] = aw * bx + ax * bw + ay * bz - az * by;
  out[k + 1] = aw * by - ax * bz + ay * bw + az * bx;
  out[k + 2] = aw * bz + ax * by - ay * bx + az * bw;
  out[k + 3] = aw * bw - ax * bx - ay * by - az * bz;
}

/** out = the vector (x, y, z) turned by a quaternion. @param {ArrayLike<number>} q @param {number} i
 * @param {number} x @param {number} y @param {number} z @param {Float64Array} out @param {number} k */
export function rotateInto(q, i, x, y, z, out, k) {
  const [qx, qy, qz, qw] = [q[i], q[i + 1], q[i + 2], q[i + 3]];
  const tx = 2 * (qy * z - qz * y);
  const ty = 2 * (qz * x - qx * z);
  const tz = 2 * (qx * y - qy * x);
  out[k] = x + qw * tx + qy * tz - qz * ty;
  out[k + 1] = y + qw * ty + qz * tx - qx * tz;
  out[k + 2] = z + qw * tz + qx * ty - qy * tx;
}
