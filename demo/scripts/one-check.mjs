// @ts-check
/** One check alone, with a setting of one's own: wrists may stay as still as 10° before it is a note. */
import { readFileSync } from "node:fs";
import { notesOf, readShot, registry, resolveSettings, studyOf } from "@keyside/core";

const { shot } = readShot(
  readFileSync(new URL("../shots/quay_0070_v1.curves.json", import.meta.url), "utf8"),
);
if (shot === null) throw new Error("Nothing in this shot can be judged.");
const own = {
  checks: { "still-wrist": { values: { wrist: { value: 10, unit: /** @type {const} */ ("deg") } } } },
};
const settings = resolveSettings(registry, own, { only: ["still-wrist"] });
for (const note of notesOf(studyOf(shot, settings))) {
  const { value, unit } = note.measured;
  console.log(
    `${note.node}, frames ${note.frames.join(" to ")}: ${value.toFixed(1)} ${unit}, at least ${note.expected.min}`,
  );
}
