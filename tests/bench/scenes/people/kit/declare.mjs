// @ts-check
import { plantOf } from "./measure.mjs";

/** A figure as a document declares it. @param {any} sk @param {any} [more] */
export const figure = (sk, more) => ({ id: sk.id, stature: sk.H, parts: sk.parts, ...more });

/** Contacts of feet with the floor, from what the feet are meant to do. @param {any} sim @param {string} floor */
export function footContacts(sim, floor) {
  const out = [];
  const { first, last } = sim.shot;
  for (const fig of Object.values(sim.figures)) {
    for (const s of ["L", "R"]) {
      for (const [key, kinds] of [
        [`foot${s}`, ["flat"]],
        [`toe${s}`, ["flat", "ball"]],
      ]) {
        let start = 0;
        for (let f = first; f <= last + 1; f++) {
          const on = f <= last && kinds.includes(plantOf(fig, s, f));
          if (on && !start) start = f;
          if (!on && start) {
            if (f - start > 3) out.push({ node: fig.sk.by[key].id, with: floor, frames: [start, f - 1] });
            start = 0;
          }
        }
      }
    }
  }
  return out;
}

/** Both versions of a scene; what is meant to touch is the same in both. @param {(bad: boolean) => { doc: any }} build */
export const versions = (build) => ({
  clean: () => build(false).doc,
  flawed: () => {
    const doc = build(true).doc;
    const plan = build(false).doc;
    for (const k of ["contacts", "props", "gazes"]) if (plan[k]) doc[k] = plan[k];
    return doc;
  },
});

/** Declares all of a scene: figures, a floor, what touches it. @param {any} b @param {any} [more] */
export function full(b, more = {}) {
  b.doc.figures = Object.values(b.sim.figures).map((f) => figure(f.sk, more.figure?.[f.sk.id]));
  b.doc.surfaces = [
    { id: "floor", normal: b.sim.shot.up === "z" ? [0, 0, 1] : [0, 1, 0], height: 0 },
    ...(more.surfaces ?? []),
  ];
  b.doc.contacts = [
    ...footContacts(b.sim, "floor").filter(more.onFloor ?? (() => true)),
    ...(more.contacts ?? []),
  ];
  if (more.props) b.doc.props = more.props;
  if (more.gazes) b.doc.gazes = more.gazes;
  return b;
}
