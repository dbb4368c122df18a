// @ts-check
/**
 * Colours and light: a figure that cannot be told from what is behind it, a wall of light that flickers.
 * @import { FaultKind, Performance, Place } from "../types.d.ts"
 */
import { colourOf, difference, labOf, plainlyApart } from "../staging/colours.mjs";
import { bodyOf } from "./tools/limbs.mjs";
import { at24 } from "./tools/windows.mjs";

/** Distance from which on two colours are told apart at a glance, in CIE 1976 units: five times what is just noticed. */
const apart = 12;

/** @type {FaultKind} */
export const blending = {
  name: "blending colours",
  checks: ["blending-colours"],
  unit: "units of CIE 1976 L*a*b* that are missing to a difference of 12",
  sizes: [
    {
      value: 8,
      reason: "4 are left: under twice what is just noticed side by side (2.3, Mahy and others 1994).",
    },
    { value: 9.7, reason: "2.3 are left, which is just noticed where the two lie still beside each other." },
    { value: 11.5, reason: "Half of a unit is left: nobody sees where the figure ends." },
  ],
  layer: "motion",
  places({ performance }, random) {
    const { view, figures, first, last } = performance;
    // Before a lit wall a figure stands out from that.
    if (view === undefined || view.panels.length > 0) return [];
    const places = figures.slice(0, 4).flatMap(({ id: figure, body }) => {
      const isOne = Object.values(view.colours).every(
        (colour) => difference(colour, view.background) > plainlyApart,
      );
      if (!isOne || view.colours[body.root] === undefined) return [];
      return [{ figure, joint: body.root, also: [...body.trunk], from: first, to: last }];
    });
    return random.shuffled(places);
  },
  perform(performance, { figure }, size, random) {
    const { view } = performance;
    if (view === undefined) return;
    const { root } = bodyOf(performance, figure);
    const left = apart - size;
    // Towards the colour that it had, as far as is left; screens round colours, so the nearest of some tries.
    const [l, a, b] = labOf(view.background);
    let best = view.background;
    for (let tries = 0; tries < 60; tries++) {
      const turn = random.between(0, 2 * Math.PI);
      const rise = random.between(-0.7, 0.7);
      const flat = Math.sqrt(1 - rise * rise);
      const tried = colourOf([
        l + left * rise,
        a + left * flat * Math.cos(turn),
        b + left * flat * Math.sin(turn),
      ]);
      const off = (/** @type {string} */ colour) => Math.abs(difference(colour, view.background) - left);
      if (off(tried) < off(best)) best = tried;
    }
    performance.view = { ...view, colours: { ...view.colours, [root]: best } };
  },
  measure(poses, { figure }) {
    const { view } = poses.performance;
    const { root } = bodyOf(poses.performance, figure);
    if (view === undefined) return 0;
    return Math.max(0, apart - difference(view.colours[root], view.background));
  },
};

/** Most changes of a wall's light within any second, over two: flashes. @param {Performance} performance @param {string} id */
function flashesOf({ view, rate, first, last }, id) {
  const lit = view?.panels.find((panel) => panel.id === id)?.lit ?? null;
  if (lit === null) return 0;
  const changes = [];
  for (let frame = first + 1; frame <= last; frame++) {
    const at = (/** @type {number} */ f) => lit.some(([from, to]) => f >= from && f <= to);
    if (at(frame) !== at(frame - 1)) changes.push(frame);
  }
  return (
    Math.max(0, ...changes.map((start) => changes.filter((f) => f >= start && f < start + rate).length)) / 2
  );
}

/** @type {FaultKind} */
export const flashing = {
  name: "flashing light",
  checks: ["flashing"],
  unit: "flashes of a wall of light in a second",
  sizes: [
    { value: 4, reason: "More than the three in a second that WCAG 2.3.1 lets pass." },
    { value: 6, reason: "Six in a second are twice as many as that lets pass." },
    {
      value: 8,
      reason:
        "Nearly the 9 in a second from which most who are sensitive react (from memory: 15 to 20 are worst).",
    },
  ],
  layer: "motion",
  places({ performance }, random) {
    const { view, figures, first, last } = performance;
    if (view === undefined) return [];
    const length = Math.round(at24(performance, 60));
    const darkAt = performance.view?.background ?? "";
    const places = view.panels.flatMap(({ id }) => {
      // A tenth of the light of white has to come and go.
      if (Math.abs(light(view.colours[id]) - light(darkAt)) < 0.15) return [];
      if (Math.min(light(view.colours[id]), light(darkAt)) > 0.75) return [];
      const from = random.integer(first + 2, Math.max(first + 2, last - length - 2));
      return [{ figure: figures[0].id, joint: id, from, to: Math.min(last - 1, from + length), panel: id }];
    });
    return places.filter(({ from, to }) => to - from >= at24(performance, 40));
  },
  perform(performance, place, size) {
    const { view, rate, first, last } = performance;
    if (view === undefined) return;
    /** @type {[number, number][]} */
    const lit = [];
    const period = rate / size;
    const isDark = (/** @type {number} */ frame) =>
      frame >= place.from && frame <= place.to && ((frame - place.from) / period) % 1 < 0.5;
    for (let frame = first; frame <= last; frame++) {
      if (isDark(frame)) continue;
      const before = lit[lit.length - 1];
      if (before !== undefined && before[1] === frame - 1) before[1] = frame;
      else lit.push([frame, frame]);
    }
    const panels = view.panels.map((panel) => (panel.id === place.panel ? { ...panel, lit } : panel));
    performance.view = { ...view, panels };
  },
  measure: (poses, place) => flashesOf(poses.performance, /** @type {string} */ (place.panel)),
};

/** Relative luminance of a colour, 0 to 1. @param {string} colour */
const light = (colour) => ((labOf(colour)[0] + 16) / 116) ** 3;
