import { degreesPerRadian } from "../../../base/constants.ts";
import { cross, dot, minus, pointAt, scaled, vectorLength } from "../../../base/vector.ts";
import { worldOf } from "../../../rig/pose.ts";
import { defineFix } from "../../fix.ts";
import { faceOf } from "../shared/face.ts";
import { turnedOver } from "../shared/turned-arm.ts";
import { eyeLine } from "./check.ts";

export const eyeLineFix = defineFix(eyeLine, {
  what: "Turns the head to its target.",
  title: ({ node, frames }) => `turn ${node ?? "the head"} to its target from frame ${frames[0]} on`,
  margin: { off: 0.7 },
  *propose({ study, finding }) {
    const face = faceOf(study, finding.figure);
    if (face === null) return;
    const { node, target, from, to } = finding;
    const middle = Math.round((from + to) / 2);
    const way = minus(
      pointAt(worldOf(study, target).position, middle),
      pointAt(worldOf(study, node).position, middle),
    );
    const ahead = face.at(middle);
    const about = cross(ahead, way);
    const size = vectorLength(about);
    if (!(size > 0)) return;
    const angle = degreesPerRadian * Math.atan2(size, dot(ahead, way));
    for (const share of [0.8, 1])
      yield turnedOver(study, node, { from, to }, scaled(about, 1 / size), share * angle);
  },
});
