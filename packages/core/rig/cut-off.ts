import { bytes } from "../base/room.ts";
import { shotMeasure } from "../base/study.ts";
import { cutOffOf } from "../document/inputs.ts";
import { rigOf } from "./rig.ts";

/**
 * 1 for each node (rig index) whose motion may lack something because the document breaks off: its own curves, or those of
 * what it hangs on. Null where the document is whole.
 */
export const cutOffAt = shotMeasure<Uint8Array | null>("cut off at", (study) => {
  const ids = cutOffOf(study);
  if (ids === null) return null;
  const { indexOf, subtreeSize, parent } = rigOf(study);
  const gone = bytes(parent.length);
  for (const id of ids) {
    const node = indexOf.get(id);
    if (node !== undefined) gone.fill(1, node, node + subtreeSize[node]);
  }
  return gone;
});
