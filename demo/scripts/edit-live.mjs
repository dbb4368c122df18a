// @ts-check
/** A shot that is being keyed: edits go in, changed notes come out, and only what an edit reaches is computed again. */
import { readFileSync } from "node:fs";
import { defaultSettings, readShot, registry, ShotSession } from "@keyside/core";

const { shot } = readShot(
  readFileSync(new URL("../shots/quay_0070_v2.curves.json", import.meta.url), "utf8"),
);
if (shot === null) throw new Error("Nothing in this shot can be judged.");
const session = new ShotSession(shot, defaultSettings(registry));
const slip = /** @type {const} */ ({
  kind: "set",
  node: "head",
  channel: "rotation.y",
  frame: 61,
  value: 60,
});
const { added, problems } = session.edit([slip]);
for (const { message } of problems) console.log(`not made: ${message}`);
for (const { tier, check, message } of added) console.log(`${tier} ${check}: ${message}`);
const { gone } = session.replace(shot);
console.log(`taken back: ${gone.map(({ check }) => check).join(", ")} gone`);
