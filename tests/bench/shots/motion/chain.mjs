// @ts-check
/** The dynamics of a chain of uniform rods on a driven base. */
import { rotate, unit } from "../../../../demo/motion/vector.mjs";
import { gravity as g } from "./flight.mjs";

/** Steps per frame of the integration. */
const substeps = 16;

/**
 * How a chain moves.
 * @param {readonly { at: readonly number[], turn: readonly number[] }[]} base per frame: where the chain is fixed (metres), and
 *   the carrier's turn, in which the rods have their rest directions
 * @param {object} how
 * @param {readonly (readonly number[])[]} how.rods rest vector of each rod in the carrier's space, metres
 * @param {number} how.rate frames per second
 * @param {number} how.lead seconds to settle before the first frame, critically damped
 * @param {number} how.damping share of critical @param {number} how.stiffness Hz @param {number} how.gravity share
 * @returns {Float64Array[]} per rod: its unit direction in the world, 3 numbers per frame
 */
export function chainMotion(base, { rods, rate, lead, damping, stiffness, gravity }) {
  const n = rods.length;
  const lengths = rods.map((rod) => Math.hypot(...rod));
  const total = lengths.reduce((sum, one) => sum + one, 0);
  const h = 1 / (rate * substeps);
  const slowest = Math.sqrt(
    ((n === 1 ? 1.5 : 1.2024 ** 2) * gravity * g) / total + (2 * Math.PI * stiffness) ** 2,
  );
  const springs = rods.map((_, k) => (2 * Math.PI * stiffness) ** 2 / (1 + 0.5 * k));
  const { inverseMass, coupling, nodeMass } = masses(lengths);
  const carrier = carrierPath(base, rods, rate);

  const x = new Float64Array(3 * (n + 1));
  const v = new Float64Array(3 * (n + 1));
  const force = new Float64Array(3 * n);
  const acceleration = new Float64Array(3 * n);
  const rod = new Float64Array(3 * n);
  const matrix = new Float64Array(n * n);
  const tension = new Float64Array(n);
  const drawn = new Float64Array(3);
  const result = rods.map(() => new Float64Array(3 * base.length));

  const start = -Math.round(lead * rate) * substeps;
  const end = (base.length - 1) * substeps;
  for (let step = start; step <= end; step++) {
    const state = carrier(step / substeps);
    if (step === start) place(state, rods, x, v);
    for (let k = 0; k < 3; k++) {
      x[k] = state.at[k];
      v[k] = state.velocity[k];
    }
    tighten(x, v, rod, lengths);
    if (step >= 0 && step % substeps === 0) {
      for (let r = 0; r < n; r++)
        for (let k = 0; k < 3; k++) result[r][(3 * step) / substeps + k] = rod[3 * r + k];
    }
    const air = 0.2 * damping * slowest;
    const slowing = 2 * (step < -0.5 * rate * substeps ? 1 : damping) * slowest;
    // Forces on the nodes. A rod's weight lies half on either end. Springs draw to the rest shape as it is carried.
    // A tenth of the damping is the air's, against the base's own way.
    drawn.set(state.at);
    for (let r = 0; r < n; r++) {
      for (let k = 0; k < 3; k++) {
        drawn[k] += state.rest(r, k) * lengths[r];
        const against = slowing * (v[3 * r + 3 + k] - v[k]) + air * v[k];
        const spring = springs[r] * (drawn[k] - x[3 * r + 3 + k]);
        const weight = k === 1 ? -gravity * g : 0;
        force[3 * r + k] = nodeMass[r] * (weight + spring - against);
      }
    }
    for (let k = 0; k < 3; k++) force[k] -= (lengths[0] / 6) * state.acceleration[k];
    applyTo(inverseMass, force, acceleration, n);
    // What keeps the rods' lengths: tensions along them.
    for (let r = 0; r < n; r++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) {
        const above = r === 0 ? state.acceleration[k] : acceleration[3 * r - 3 + k];
        const apart = v[3 * r + 3 + k] - v[3 * r + k];
        sum += rod[3 * r + k] * (acceleration[3 * r + k] - above) + (apart * apart) / lengths[r];
      }
      tension[r] = sum;
      for (let s = 0; s < n; s++) {
        let dot = 0;
        for (let k = 0; k < 3; k++) dot += rod[3 * r + k] * rod[3 * s + k];
        matrix[n * r + s] = coupling[n * r + s] * dot;
      }
    }
    solve(matrix, tension, n);
    for (let r = 0; r < n; r++) {
      for (let k = 0; k < 3; k++) {
        force[3 * r + k] =
          -tension[r] * rod[3 * r + k] + (r + 1 < n ? tension[r + 1] * rod[3 * r + 3 + k] : 0);
      }
    }
    addApplied(inverseMass, force, acceleration, n);
    for (let i = 0; i < 3 * n; i++) {
      v[3 + i] += h * acceleration[i];
      x[3 + i] += h * v[3 + i];
    }
  }
  return result;
}

/**
 * The mass matrix of rods of length times one, for their lower ends: m/3 for an end's own motion, m/6 across a rod.
 * @param {readonly number[]} lengths
 */
function masses(lengths) {
  const n = lengths.length;
  const mass = new Float64Array(n * n);
  for (let r = 0; r < n; r++) {
    mass[n * r + r] = (lengths[r] + (lengths[r + 1] ?? 0)) / 3;
    if (r + 1 < n) {
      mass[n * r + r + 1] = lengths[r + 1] / 6;
      mass[n * (r + 1) + r] = lengths[r + 1] / 6;
    }
  }
  const inverseMass = new Float64Array(n * n);
  for (let column = 0; column < n; column++) {
    const unit = new Float64Array(n);
    unit[column] = 1;
    solve(mass.slice(), unit, n);
    for (let row = 0; row < n; row++) inverseMass[n * row + column] = unit[row];
  }
  const at = (/** @type {number} */ r, /** @type {number} */ s) =>
    r < 0 || s < 0 ? 0 : inverseMass[n * r + s];
  const coupling = new Float64Array(n * n);
  for (let r = 0; r < n; r++) {
    for (let s = 0; s < n; s++) {
      coupling[n * r + s] = at(r, s) - at(r - 1, s) - at(r, s - 1) + at(r - 1, s - 1);
    }
  }
  const nodeMass = lengths.map((length, r) => (length + (lengths[r + 1] ?? 0)) / 2);
  return { inverseMass, coupling, nodeMass };
}

/** Solves a small symmetric system in place. @param {Float64Array} a n × n @param {Float64Array} b @param {number} n */
function solve(a, b, n) {
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const factor = a[n * j + i] / a[n * i + i];
      for (let k = i; k < n; k++) a[n * j + k] -= factor * a[n * i + k];
      b[j] -= factor * b[i];
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) b[i] -= a[n * i + k] * b[k];
    b[i] /= a[n * i + i];
  }
}

/** @param {Float64Array} matrix @param {Float64Array} vectors @param {Float64Array} out @param {number} n */
function applyTo(matrix, vectors, out, n) {
  out.fill(0);
  addApplied(matrix, vectors, out, n);
}

/** @param {Float64Array} matrix @param {Float64Array} vectors @param {Float64Array} out @param {number} n */
function addApplied(matrix, vectors, out, n) {
  for (let r = 0; r < n; r++) {
    for (let s = 0; s < n; s++) {
      const factor = matrix[n * r + s];
      for (let k = 0; k < 3; k++) out[3 * r + k] += factor * vectors[3 * s + k];
    }
  }
}

/** Puts the nodes where the rods are at rest. @param {ReturnType<ReturnType<typeof carrierPath>>} state
 * @param {readonly (readonly number[])[]} rods @param {Float64Array} x @param {Float64Array} v */
function place(state, rods, x, v) {
  for (let k = 0; k < 3; k++) {
    x[k] = state.at[k];
    rods.forEach((rod, r) => {
      x[3 * r + 3 + k] = x[3 * r + k] + state.rest(r, k) * Math.hypot(...rod);
      v[3 * r + 3 + k] = state.velocity[k];
    });
  }
}

/** Gives the rods their lengths and takes the speed along them out. @param {Float64Array} x @param {Float64Array} v
 * @param {Float64Array} rod filled with unit directions @param {readonly number[]} lengths */
function tighten(x, v, rod, lengths) {
  let [sx, sy, sz] = [0, 0, 0];
  for (let r = 0; r < lengths.length; r++) {
    const [a, b] = [3 * r, 3 * r + 3];
    const dx = x[b] + sx - x[a];
    const dy = x[b + 1] + sy - x[a + 1];
    const dz = x[b + 2] + sz - x[a + 2];
    const size = Math.hypot(dx, dy, dz) || 1;
    rod[a] = dx / size;
    rod[a + 1] = dy / size;
    rod[a + 2] = dz / size;
    let along = 0;
    for (let k = 0; k < 3; k++) along += rod[a + k] * (v[b + k] - v[a + k]);
    const before = [x[b], x[b + 1], x[b + 2]];
    for (let k = 0; k < 3; k++) {
      x[b + k] = x[a + k] + rod[a + k] * lengths[r];
      v[b + k] -= along * rod[a + k];
    }
    [sx, sy, sz] = [x[b] - before[0], x[b + 1] - before[1], x[b + 2] - before[2]];
  }
}

/**
 * Place, velocity and acceleration of the base, and the rods' rest directions, at any time: a cubic through the frames
 * (Catmull-Rom); before the first and behind the last frame it goes on evenly.
 * @param {readonly { at: readonly number[], turn: readonly number[] }[]} base
 * @param {readonly (readonly number[])[]} rods @param {number} rate
 */
function carrierPath(base, rods, rate) {
  const last = base.length - 1;
  const placeOf = (/** @type {number} */ i, /** @type {number} */ k) => {
    if (i < 0) return base[0].at[k] + i * (base[Math.min(1, last)].at[k] - base[0].at[k]);
    if (i > last)
      return base[last].at[k] + (i - last) * (base[last].at[k] - base[Math.max(0, last - 1)].at[k]);
    return base[i].at[k];
  };
  const directions = base.map(({ turn }) => rods.map((rod) => unit(rotate([...turn], [...rod]))));
  const [at, velocity, acceleration] = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  let [below, above, share] = [0, 0, 0];
  const state = {
    at,
    velocity,
    acceleration,
    rest: (/** @type {number} */ r, /** @type {number} */ k) =>
      (1 - share) * directions[below][r][k] + share * directions[above][r][k],
  };
  return (/** @type {number} */ time) => {
    const i = Math.floor(time);
    const u = time - i;
    for (let k = 0; k < 3; k++) {
      const [a, b, c, d] = [placeOf(i - 1, k), placeOf(i, k), placeOf(i + 1, k), placeOf(i + 2, k)];
      const [c1, c2, c3] = [(c - a) / 2, a - 2.5 * b + 2 * c - d / 2, (d - a) / 2 + 1.5 * (b - c)];
      at[k] = b + u * (c1 + u * (c2 + u * c3));
      velocity[k] = rate * (c1 + u * (2 * c2 + 3 * u * c3));
      acceleration[k] = rate * rate * (2 * c2 + 6 * u * c3);
    }
    below = Math.max(0, Math.min(last, i));
    above = Math.max(0, Math.min(last, i + 1));
    share = u;
    return state;
  };
}
