// @ts-check
/** A check written in code: a head that is held high. It runs with all others, and its notes are like theirs. */
import { readFileSync } from "node:fs";
import {
  defineCheck,
  figuresOf,
  gridOf,
  keysOfNodes,
  notesOf,
  readShot,
  registry,
  resolveSettings,
  studyOf,
  worldOf,
} from "@keyside/core";

const highHead = defineCheck({
  name: "high-head",
  title: "Head held high",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  what: "The head is held above a height all through the shot.",
  why: "In this show grown people stoop.",
  computes: "The lowest height of the head over the ground, against the setting.",
  fix: "Lower the hips, or bend the back.",
  notAFault: ["a head that comes down once"],
  limits: [],
  sources: ["this show's guide"],
  since: "1.0.0",
  settings: {
    height: { default: 1.6, unit: "m", what: "height that is too high", source: "this show's guide", min: 0 },
  },
  find(study, figure, values) {
    const [head] = figuresOf(study)[figure].parts.get("head") ?? [];
    if (head === undefined) return [];
    const { position } = worldOf(study, head);
    const { count } = gridOf(study);
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) lowest = Math.min(lowest, position[3 * i + 1]);
    if (lowest <= values.height) return [];
    return [
      {
        node: head,
        figure,
        from: 0,
        to: count - 1,
        measured: { quantity: "lowest height of the head", value: lowest, unit: "m" },
        expected: { max: values.height, unit: "m", source: "this show's guide" },
        excess: lowest / values.height,
        size: lowest - values.height,
        fault: { kind: "keys", keys: keysOfNodes(study, [head], 0, count - 1) },
      },
    ];
  },
  word: ({ measured, expected }, words) => ({
    message: `${words.part} never comes below ${words.length(measured.value)}`,
    suggestion: `bring it down to ${words.length(expected.max ?? 0)} once`,
  }),
});

const { shot } = readShot(
  readFileSync(new URL("../shots/quay_0070_v1.curves.json", import.meta.url), "utf8"),
);
if (shot === null) throw new Error("Nothing in this shot can be judged.");
const chosen = {
  checks: { "high-head": { values: { height: { value: 1.1, unit: /** @type {const} */ ("m") } } } },
};
const settings = resolveSettings([...registry, highHead], chosen, { only: ["high-head"] });
for (const { check, tier, message, suggestion } of notesOf(studyOf(shot, settings))) {
  console.log(`${tier} ${check}: ${message}; ${suggestion}`);
}
