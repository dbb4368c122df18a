// @ts-check
// From curves by role to a document with the names, units and axes of a production.

/** @typedef {import('./take.mjs').Curve} Curve */

const TO_Y_UP = { y: null, z: [Math.SQRT1_2, 0, 0, Math.SQRT1_2] };

/** @param {number} v @param {number} [d] */
export const round = (v, d = 4) => {
  const r = Number(v.toFixed(d));
  return r === 0 ? 0 : r;
};

/** @param {any[]} key @param {number} k */
function scaleKey(key, k) {
  const out = [key[0], round(key[1] * k)];
  if (key[2]) {
    const e = { ...key[2] };
    for (const side of ["in", "out"]) {
      if (Array.isArray(e[side])) e[side] = [round(e[side][0]), round(e[side][1] * k)];
      else if (typeof e[side] === "number") e[side] = round(e[side] * k, 5);
    }
    out.push(e);
  }
  return out;
}

/** A point of the world in the document's axes. @param {number[]} p @param {string} up @param {number} k */
export function place(p, up, k) {
  const [x, y, z] = p.map((v) => round(v * k));
  return up === "z" ? [x, round(-z), y] : [x, y, z];
}

/**
 * @param {{ name: string, fps: number, range: [number, number], up?: string, unit?: number, sayUnit?: boolean,
 *   bodies: { rig: import('./rig.mjs').Rig, curves: Curve[], name: (role: string) => string }[],
 *   things?: any[], shot?: object, more?: object }} o  unit: metres per unit
 */
export function makeDocument({
  name,
  fps,
  range,
  up = "y",
  unit = 1,
  sayUnit = true,
  bodies,
  things = [],
  shot = {},
  more = {},
}) {
  const k = 1 / unit;
  const doc = /** @type {any} */ ({
    format: "keyside.curves",
    version: 1,
    shot: { name, frameRate: fps, range, ...shot },
    space: { ...(sayUnit ? { metresPerUnit: unit } : {}), ...(up === "y" ? {} : { up }) },
    nodes: [],
    curves: [],
  });
  for (const body of bodies) {
    for (const j of body.rig.joints) {
      const node = /** @type {any} */ ({ id: body.name(j.id) });
      if (j.parent) node.parent = body.name(j.parent);
      node.translation = j.parent ? j.at.map((v) => round(v * k)) : place(j.at, up, k);
      if (j.order !== "xyz") node.rotationOrder = j.order;
      const fixed = /** @type {any} */ (TO_Y_UP)[up];
      if (!j.parent && fixed) node.fixedRotation = fixed;
      doc.nodes.push(node);
    }
    for (const c of body.curves) doc.curves.push(outCurve(c, body, up, k));
  }
  doc.nodes.push(...things);
  Object.assign(doc, more);
  return doc;
}

/** @param {Curve} c @param {any} body @param {string} up @param {number} k */
function outCurve(c, body, up, k) {
  let channel = c.channel;
  let factor = channel.startsWith("t") ? k : 1;
  const root = !body.rig.by.get(c.node).parent;
  if (root && up === "z" && channel.startsWith("t")) {
    if (channel.endsWith("y")) channel = "translation.z";
    else if (channel.endsWith("z")) {
      channel = "translation.y";
      factor = -k;
    }
  }
  const out = /** @type {any} */ ({ node: body.name(c.node), channel });
  if (c.interpolation && c.interpolation !== "linear") out.interpolation = c.interpolation;
  out.keys = c.keys.map((key) => scaleKey(key, factor));
  return out;
}

/** The text of a document: a key is one short line. @param {any} doc */
export function text(doc) {
  const flat = (/** @type {any} */ v) => JSON.stringify(v);
  const parts = Object.entries(doc).map(([name, v]) => {
    if (name === "curves") {
      const curves = v.map((/** @type {any} */ c) => {
        const { keys, ...head } = c;
        return `    { ${flat(head).slice(1, -1)}, "keys": [\n${keys.map((/** @type {any} */ q) => `      ${flat(q)}`).join(",\n")}\n    ] }`;
      });
      return `  "curves": [\n${curves.join(",\n")}\n  ]`;
    }
    if (Array.isArray(v)) return `  "${name}": [\n${v.map((x) => `    ${flat(x)}`).join(",\n")}\n  ]`;
    return `  "${name}": ${flat(v)}`;
  });
  return `{\n${parts.join(",\n")}\n}\n`;
}
