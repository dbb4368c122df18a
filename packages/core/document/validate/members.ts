import { formatVersion } from "../schema.ts";
import { fallbackRate, frameRateOf } from "./frame-rate.ts";
import type { Report } from "./header.ts";
import { kindOf } from "./words.ts";

/**
 * Looks at what decides whether a document can be judged at all, and fixes what has a defined answer: the format, the
 * version, the frame rate, the list of nodes.
 * @param members changed in place
 * @returns whether there is anything to judge
 */
export function fixMembers(members: Record<string, unknown>, hasCurves: boolean, report: Report): boolean {
  if (!isCurveDocument(members, hasCurves, report)) return false;
  const { nodes } = members;
  const hasNodes = Array.isArray(nodes) && nodes.length > 0;
  if (isNewer(members)) {
    reportNewer(members, hasNodes, report);
    if (!hasNodes) return false;
  }
  fixShot(members, report);
  if (hasNodes) return true;
  if (nodes === undefined || Array.isArray(nodes)) {
    const message = 'This document has no nodes, so that there is nothing to pose; list them under "nodes".';
    report("no-nodes", message, "nodes");
  } else {
    report(
      "no-nodes",
      `"nodes" has to be a list of nodes, and is ${kindOf(nodes)}; write [ { "id": … } ].`,
      "nodes",
    );
  }
  return false;
}

/** Says once of a newer document what is done with it. */
function reportNewer(members: Readonly<Record<string, unknown>>, hasNodes: boolean, report: Report): void {
  const outcome = hasNodes
    ? `It is read as version ${formatVersion}: what is not known is kept and not used, and notes may be wrong.`
    : "It has no nodes where they are looked for, so that nothing of it can be judged.";
  const message = `The document is of version ${members["version"]}, and this program reads version ${formatVersion}; use a newer program. ${outcome}`;
  report("newer-version", message, "version");
}

function isCurveDocument(members: Record<string, unknown>, hasCurves: boolean, report: Report): boolean {
  const { format, version } = members;
  if (format === undefined && !hasCurves && members["nodes"] === undefined) {
    const message =
      'This JSON is no curve document: it has no "format"; open a file that holds "format": "keyside.curves".';
    report("not-a-curve-document", message, "");
    return false;
  }
  if (format === undefined) {
    report(
      "missing-property",
      '"format" is missing; add "format": "keyside.curves". The document is read as one.',
      "format",
    );
  } else if (format !== "keyside.curves") {
    const message = `The format is ${kindOf(format)}, and only "keyside.curves" is read here; convert the file first.`;
    report("not-a-curve-document", message, "format");
    return false;
  }
  members["format"] = "keyside.curves";
  if (isNewer(members)) return true;
  if (version === undefined) {
    report(
      "missing-property",
      `"version" is missing; add "version": ${formatVersion}. The document is read as version ${formatVersion}.`,
      "version",
    );
  } else if (version !== formatVersion) {
    report(
      "bad-value",
      `"version" has to be ${formatVersion}, and is ${kindOf(version)}. The document is read as version ${formatVersion}.`,
      "version",
    );
  }
  members["version"] = formatVersion;
  return true;
}

/** Whether members are those of a document of a newer version than this program knows. */
export function isNewer({ version }: Readonly<Record<string, unknown>>): boolean {
  return typeof version === "number" && Number.isInteger(version) && version > formatVersion;
}

function fixShot(members: Record<string, unknown>, report: Report): void {
  const { shot } = members;
  if (typeof shot !== "object" || shot === null || Array.isArray(shot)) {
    const what = shot === undefined ? "is missing; add it" : `has to be an object, and is ${kindOf(shot)}`;
    const message = `"shot" ${what}, such as "shot": { "frameRate": 24 }. ${fallbackRate} frames per second are used.`;
    report("frame-rate", message, "shot");
    members["shot"] = { frameRate: fallbackRate };
    return;
  }
  const { frameRate } = shot as Record<string, unknown>;
  if (frameRateOf(frameRate) !== null) return;
  const what = frameRate === undefined ? '"frameRate" is missing' : `"frameRate" is ${kindOf(frameRate)}`;
  const message = `${what}; write frames per second, as a number or as a fraction such as "24000/1001". ${fallbackRate} is used.`;
  report("frame-rate", message, "shot/frameRate");
  members["shot"] = { ...shot, frameRate: fallbackRate };
}
