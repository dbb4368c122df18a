// @ts-check
/** A shot built in code, and checked: a bell that swings, with one key that is off. */
import { defaultSettings, notesOf, registry, shotOf, studyOf } from "@keyside/core";

const swing = Array.from({ length: 41 }, (_, i) => 30 * Math.sin((i * Math.PI) / 20));
swing[23] += 9;
const { shot, problems } = shotOf({
  format: "keyside.curves",
  version: 1,
  shot: { frameRate: 24 },
  nodes: [{ id: "beam" }, { id: "bell", parent: "beam", translation: [0, -1, 0] }],
  curves: [{ node: "beam", channel: "rotation.z", keys: swing.map((value, i) => [i + 1, value]) }],
});
if (shot === null) throw new Error(problems.map((problem) => problem.message).join("\n"));
for (const note of notesOf(studyOf(shot, defaultSettings(registry)))) {
  console.log(`${note.check}, frames ${note.frames.join(" to ")}: ${note.message}`);
}
