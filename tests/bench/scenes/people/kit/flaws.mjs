// @ts-check
/** What an animator does wrong to keys that are there. Each changes the document and returns it. */

const find = (doc, node, channel) =>
  doc.curves.filter((c) => c.node === node && (!channel || c.channel.startsWith(channel)));
const within = (k, r) => k[0] >= r[0] && k[0] <= r[1];

/** Takes keys away. */
export function deleteKeys(doc, node, channel, range) {
  for (const c of find(doc, node, channel)) {
    const rest = c.keys.filter((k) => !within(k, range));
    if (rest.length) {
      c.keys = rest.map((k) => [...k]);
      thirds(c);
    }
  }
  return doc;
}

/** Handles of keys whose neighbours went: a third of the way, with the same slope. */
function thirds(c) {
  c.keys.forEach((k, i) => {
    const h = k[2];
    if (h?.in && i) {
      const r = (k[0] - c.keys[i - 1][0]) / 3;
      h.in = [-Number(r.toFixed(3)), Number(((h.in[1] / h.in[0]) * -r).toFixed(3))];
    }
    if (h?.out && i < c.keys.length - 1) {
      const r = (c.keys[i + 1][0] - k[0]) / 3;
      h.out = [Number(r.toFixed(3)), Number(((h.out[1] / h.out[0]) * r).toFixed(3))];
    }
  });
}

/** Moves keys in time. */
export function shiftKeys(doc, node, channel, range, by) {
  for (const c of find(doc, node, channel)) {
    const moved = c.keys.filter((k) => within(k, range));
    const to = [range[0] + by, range[1] + by];
    c.keys = [
      ...c.keys.filter(
        (k) => !within(k, range) && !(k[0] >= Math.min(to[0], range[0]) && k[0] <= Math.max(to[1], range[1])),
      ),
      ...moved.map((k) => [k[0] + by, ...k.slice(1)]),
    ].sort((a, b) => a[0] - b[0]);
    thirds(c);
  }
  return doc;
}

/** Adds to the values of keys. */
export function offsetKeys(doc, node, channel, range, by) {
  for (const c of find(doc, node, channel))
    for (const k of c.keys) if (within(k, range)) k[1] = Number((k[1] + by).toFixed(3));
  return doc;
}

/** Holds one value over a range, with flat ends. */
export function holdKeys(doc, node, channel, range) {
  for (const c of find(doc, node, channel)) {
    const k0 = c.keys.filter((k) => k[0] <= range[0]).pop();
    if (!k0 || c.keys.length < 2) continue;
    c.keys = c.keys.filter((k) => !within(k, range));
    const flat = /** @type {any} */ (c.interpolation === "bezier" ? { in: [-1, 0], out: [1, 0] } : undefined);
    const put = (f) => c.keys.push(flat ? [f, k0[1], { ...flat }] : [f, k0[1]]);
    put(range[0]);
    put(range[1]);
    c.keys.sort((a, b) => a[0] - b[0]);
  }
  return doc;
}

/** Scales what a curve does about its value at the first key. */
export function scaleKeys(doc, node, channel, k) {
  for (const c of find(doc, node, channel)) {
    const v0 = c.keys[0][1];
    for (const key of c.keys) {
      key[1] = Number((v0 + (key[1] - v0) * k).toFixed(3));
      for (const h of ["in", "out"])
        if (key[2]?.[h]) key[2][h] = [key[2][h][0], Number((key[2][h][1] * k).toFixed(3))];
    }
  }
  return doc;
}

/** Removes curves altogether. */
export function dropCurves(doc, node, channel) {
  doc.curves = doc.curves.filter((c) => !(c.node === node && (!channel || c.channel.startsWith(channel))));
  return doc;
}

/** Straight segments in a range. */
export function straighten(doc, node, channel, range) {
  for (const c of find(doc, node, channel))
    for (const k of c.keys) if (within(k, range)) k[2] = { ...k[2], interpolation: "linear" };
  return doc;
}

/** One side's keys copied to the other, with signs for what is mirrored. */
export function copyTurns(doc, from, to, range, signs) {
  for (const [i, ax] of ["x", "y", "z"].entries()) {
    const a = find(doc, from, `rotation.${ax}`)[0];
    let b = find(doc, to, `rotation.${ax}`)[0];
    if (!a) continue;
    if (!b) {
      b = { ...a, node: to, keys: [] };
      doc.curves.push(b);
    }
    const flip = (k) => [
      k[0],
      k[1] * signs[i],
      ...(k[2]
        ? [
            Object.fromEntries(
              Object.entries(k[2]).map(([n, v]) => [n, Array.isArray(v) ? [v[0], v[1] * signs[i]] : v]),
            ),
          ]
        : []),
    ];
    b.keys = [
      ...b.keys.filter((k) => !within(k, range)),
      ...a.keys.filter((k) => within(k, range)).map(flip),
    ].sort((x, y) => x[0] - y[0]);
    thirds(b);
  }
  return doc;
}

/** Pulls handles up or down, so that a curve shoots past its keys. */
export function pullHandles(doc, node, channel, range, by) {
  for (const c of find(doc, node, channel)) {
    for (const k of c.keys) {
      if (!within(k, range) || !k[2]?.in || !k[2]?.out) continue;
      k[2] = {
        ...k[2],
        in: [k[2].in[0], Number((k[2].in[1] - by).toFixed(3))],
        out: [k[2].out[0], Number((k[2].out[1] + by).toFixed(3))],
      };
    }
  }
  return doc;
}
