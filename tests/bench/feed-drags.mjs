import { FeedProcess } from "./feed-client.mjs";
import { ms, table } from "./measure.mjs";
import { skeletonDocument } from "./skeleton.mjs";

/** Frames of the shots; all have a key every eight frames, so that a dragged key reaches as far in each. */
export const lengths = (process.env.DRAG_FRAMES ?? "240,1000,4000,16000").split(",").map(Number);
export const figureCounts = (process.env.DRAG_FIGURES ?? "1,20").split(",").map(Number);
const seconds = Number(process.env.DRAG_SECONDS ?? 2);
const perSecond = 60;
/** Twenty figures over more frames than this would need more memory than most machines have to spare. */
export const mostFramesOfMany = 4000;

/**
 * Drags through the built command's host channel: edits come at 60 a second whether or not any has been answered.
 * @returns a table in Markdown: what was dragged, and how long the feed was silent
 */
export async function drags() {
  const rows = [];
  for (const figures of figureCounts) {
    for (const frames of lengths) {
      if (figures > 1 && frames > mostFramesOfMany) continue;
      const document = shotOf(figures, frames);
      for (const part of ["root", "leaf"]) {
        for (const most of [1, 500]) rows.push(await drag(document, { figures, frames, part, most }));
      }
    }
  }
  const head = [
    "frames",
    "figures",
    "dragged",
    "keys an edit",
    "edits",
    "messages",
    "of them so far",
    "longest silence",
    "last edit to its notes",
  ];
  return table(head, rows);
}

async function drag(document, { figures, frames, part, most }) {
  const feed = new FeedProcess();
  await feed.request("keyside/hello", { protocols: [1] });
  const opened = feed.told("keyside/notesChanged", ({ revision }) => revision === 0);
  await feed.request("keyside/openShot", { shot: "bench", document, notesSoFar: true });
  await opened;
  const keys = keysNear(document, part, frames / 2, most);
  const editsAt = (turn) =>
    keys.map(({ node, channel, frame, value }) => ({
      kind: "set",
      node,
      channel,
      frame,
      value: value + Math.sin(turn / 5),
    }));
  const count = Math.round(seconds * perSecond);
  const begun = performance.now();
  const told = [begun];
  let soFar = 0;
  feed.listeners.add(({ method }) => {
    if (method !== "keyside/notesChanged" && method !== "keyside/notesSoFar") return;
    told.push(performance.now());
    if (method === "keyside/notesSoFar") soFar++;
  });
  const last = feed.told("keyside/notesChanged", ({ revision }) => revision === count);
  for (let turn = 1; turn <= count; turn++) {
    const due = begun + ((turn - 1) * 1000) / perSecond;
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, due - performance.now())));
    feed.request("keyside/editKeys", { shot: "bench", revision: turn, edits: editsAt(turn) });
  }
  const sentLast = performance.now();
  await last;
  const silences = told.slice(1).map((at, i) => at - told[i]);
  await feed.stop();
  return [
    frames,
    figures,
    part,
    keys.length,
    count,
    silences.length,
    soFar,
    ms(Math.max(...silences)),
    ms(performance.now() - sentLast),
  ];
}

/** The keys of the first root, or of the last leaf, that are nearest to a frame; one, or all that it has up to `most`. */
export function keysNear(document, part, middle, most) {
  const parents = new Set(document.nodes.map(({ parent }) => parent));
  const node =
    part === "root"
      ? document.nodes.find(({ parent }) => parent === undefined).id
      : document.nodes.findLast(({ id }) => !parents.has(id)).id;
  return document.curves
    .filter((curve) => curve.node === node)
    .flatMap(({ channel, keys }) => keys.map(([frame, value]) => ({ node, channel, frame, value })))
    .sort((a, b) => Math.abs(a.frame - middle) - Math.abs(b.frame - middle))
    .slice(0, most);
}

/** A figure of 100 nodes, or many of 20 each. */
export function shotOf(figures, frames) {
  return figures === 1 ? skeletonOf(100, frames) : manyFigures(figures, frames);
}

function skeletonOf(count, frames, seed = 3) {
  return skeletonDocument({ count, frames, every: 8, seed });
}

/** Figures of 20 nodes each, side by side in one shot. */
function manyFigures(count, frames) {
  const documents = Array.from({ length: count }, (_, index) => skeletonOf(20, frames, index + 1));
  const named = (id, index) => `figure${index + 1}_${id}`;
  return {
    ...documents[0],
    nodes: documents.flatMap(({ nodes }, index) =>
      nodes.map(({ id, parent, ...rest }) => ({
        id: named(id, index),
        ...(parent === undefined ? {} : { parent: named(parent, index) }),
        ...rest,
      })),
    ),
    curves: documents.flatMap(({ curves }, index) =>
      curves.map((curve) => ({ ...curve, node: named(curve.node, index) })),
    ),
  };
}
