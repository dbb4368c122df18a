import { defineFix } from "../../fix.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { ontoFrames } from "../shared/onto-frames.ts";
import { keyOffFrame } from "./check.ts";

export const keyOffFrameFix = defineFix(keyOffFrame, {
  what: "Moves keys onto the nearest frame.",
  title: ({ keys }) => {
    const curves = new Set(keys.map(({ channel }) => channel)).size;
    const which = curves > 1 ? `in ${curves} curves` : `of ${keys[0]?.channel ?? "its curve"}`;
    return `move the keys ${which} of ${keys[0]?.node ?? "the node"} onto whole frames`;
  },
  *propose({ study, shot, finding: { places } }) {
    const curves = new Set(places.map(({ curve }) => curve));
    const edits = [...curves].flatMap((curve) => ontoFrames(study, curve));
    yield edits;
    // Feet that stood as the body's keys stood are kept where they were.
    yield withEndsKept(study, shot, edits);
  },
});
