import { shortMessage } from "../base/short-message.ts";
import type { FrameRate, Problem, ReadResult, Shot } from "./model.ts";
import { noPlaces, type SegmentPlaces } from "./places.ts";
import { problemLimit } from "./scan/cursor.ts";
import type { ScannedCurve } from "./scan/finish-curve.ts";
import { type Scan, scanDocument } from "./scan.ts";
import type { CurveDocument, DocumentHeader } from "./schema.ts";
import { chosenCurves } from "./validate/curves.ts";
import { cutOffNodes, cutOffSentence } from "./validate/cut-off-nodes.ts";
import { frameRateOf } from "./validate/frame-rate.ts";
import { reportAt, validHeader } from "./validate/header.ts";
import { fixMembers, isNewer } from "./validate/members.ts";
import { givenRange, longestRange, rangeOfKeys } from "./validate/range.ts";
import { reportRelations } from "./validate/relations.ts";
import { documentText } from "./write/document-text.ts";

/** A header as it was read, with everything that is wrong outside the curves. */
export interface ReadHeader {
  readonly header: DocumentHeader | null;
  readonly frameRate: FrameRate;
  /** The range that the document gives; null where it is inferred from the keys. */
  readonly range: readonly [number, number] | null;
  readonly nodeIds: ReadonlySet<string>;
  readonly problems: readonly Problem[];
  readonly places: SegmentPlaces;
}

/** What a result was put together from, so that an edit can be read without reading the rest again. */
export interface ReadState {
  readonly header: ReadHeader;
  readonly scanned: readonly ScannedCurve[];
}

const states = new WeakMap<ReadResult, ReadState>();

/** The parts of a result of {@link readShot}; undefined for any other. */
export function stateOf(result: ReadResult): ReadState | undefined {
  return states.get(result);
}

/**
 * Reads the text of a curve document: as much of a shot as can be used, and everything that is wrong, at its place.
 * Never throws, whatever the text is.
 * @param text text of a curve document, whatever it holds
 * @returns the shot, null where nothing can be judged, and the problems with their offsets in the text
 */
export function readShot(text: string): ReadResult {
  const scan = scanDocument(text);
  return assembled(readHeader(scan), scan.curves);
}

/**
 * Checks a document that was built in code exactly as one that is read from a text. Problems have no places (start and
 * end are 0), paths say where they are.
 * @param document plain data, as `docs/document.md` describes it
 * @returns the shot, null where nothing can be judged, and the problems
 */
export function shotOf(document: CurveDocument): ReadResult {
  const { shot, problems } = readShot(documentText(document));
  return {
    shot: shot && { ...shot, curves: shot.curves.map((curve) => ({ ...curve, place: null })) },
    problems: problems.map((problem) => ({ ...problem, start: 0, end: 0 })),
    places: noPlaces,
  };
}

/** Puts a result together from a header and curves; costs little beside reading either. */
export function assembled(header: ReadHeader, scanned: readonly ScannedCurve[]): ReadResult {
  const problems = [...header.problems];
  // Of a newer document it has been said once that not all of it is known.
  const isNew = header.header !== null && isNewer(header.header);
  for (const { problems: found } of scanned) {
    if (found.length === 0) continue;
    problems.push(...(isNew ? found.filter(({ code }) => code !== "unknown-property") : found));
  }
  let shot: Shot | null = null;
  if (header.header !== null) {
    const chosen = chosenCurves(scanned, header.nodeIds);
    problems.push(...chosen.problems);
    const range = header.range ?? inferredRange(rangeOfKeys(chosen.curves), header, problems);
    const cut = problems.find(({ code }) => code === cutOff);
    shot = { header: header.header, frameRate: header.frameRate, range, curves: chosen.curves };
    if (cut !== undefined) {
      const hasCurves = header.places.has("curves");
      shot = { ...shot, cutOff: cutOffNodes(cut, hasCurves, header.nodeIds, scanned) };
    }
  }
  const own = withoutFollowing(problems, header.places);
  const result: ReadResult = {
    shot,
    problems: inOrder(own.map(inShort)),
    places: header.places,
    ...(shot?.cutOff === undefined ? {} : { remarks: [cutOffSentence(shot.cutOff)] }),
  };
  states.set(result, { header, scanned });
  return result;
}

/** A value that is wrong may be of any length, and is repeated. */
function inShort(problem: Problem): Problem {
  const message = shortMessage(problem.message);
  return message === problem.message ? problem : { ...problem, message };
}

function readHeader(scan: Scan): ReadHeader {
  const { members, problems: broken } = scan;
  const unusable: ReadHeader = {
    header: null,
    frameRate: { numerator: 24, denominator: 1 },
    range: null,
    nodeIds: new Set(),
    problems: broken,
    places: scan.places,
  };
  if (members === null) return unusable;
  const problems = [...broken];
  const report = reportAt(scan.places, broken, problems);
  if (!fixMembers(members, scan.places.has("curves"), report)) return { ...unusable, problems };
  if (!scan.places.has("curves")) {
    report("missing-property", '"curves" is missing, so that nothing moves; add "curves": [ … ].', "curves");
  }
  const valid = validHeader(members, report, !isNewer(members));
  if (valid === null) return { ...unusable, problems };
  const { header, leftOut } = valid;
  if (header.nodes.length === 0) {
    report("no-nodes", "None of the nodes can be used; fix what is wrong with them.", "nodes");
    return { ...unusable, problems };
  }
  reportRelations(header, (code, message, pathInHeader) => {
    const path = leftOut.pathInText(pathInHeader);
    // What is missing because it could not be used has been told of.
    const isTold =
      code === "missing-property" &&
      problems.some((one) => one.code === "bad-value" && one.path.startsWith(`${path}/`));
    if (!isTold) report(code, message, path);
  });
  let { places } = scan;
  for (const name of leftOut.names) {
    places = places.renumbered(name, members[name], (path) => leftOut.pathInText(path));
  }
  return {
    header,
    frameRate: frameRateOf(header.shot.frameRate) ?? unusable.frameRate,
    range: givenRange(header, report),
    nodeIds: new Set(header.nodes.map((node) => node.id)),
    problems,
    places,
  };
}

function inferredRange(
  range: readonly [number, number] | null,
  header: ReadHeader,
  problems: Problem[],
): readonly [number, number] {
  const report = reportAt(header.places, [], problems);
  if (range === null) {
    // Where the keys that there are cannot be used, that has been said, and is what is to be fixed.
    if (problems.some(({ path }) => path.startsWith("curves"))) return [0, 0];
    const message = "There are no keys and no range, so that there are no frames to judge; add keys.";
    report("no-frames", message, "curves");
    return [0, 0];
  }
  const [from, to] = range;
  if (to - from <= longestRange) return range;
  const message = `The keys reach from frame ${from} to frame ${to}, which is longer than any shot; give the range under "shot", or fix the stray key. The first ${longestRange} frames are used.`;
  report("range", message, "curves");
  return [from, from + longestRange];
}

/** What is said of a text that breaks off; the one place that has to be mended. */
const cutOff = "cut-off";
/** What is said of a document in which there is too little to judge, and of something that is not there. */
const tooLittle: ReadonlySet<string> = new Set(["no-nodes", "no-frames"]);
const missing: ReadonlySet<string> = new Set(["missing-property", "frame-rate"]);

/**
 * Of a text that breaks off, what may well stand in the part that is gone is no problem of its own: nobody is told to add
 * nodes to half a file. What is missing in something that was closed before is.
 */
function withoutFollowing(problems: Problem[], places: SegmentPlaces): Problem[] {
  const cut = problems.find(({ code }) => code === cutOff);
  if (cut === undefined) return problems;
  return problems.filter(({ code, path, end }) => {
    if (tooLittle.has(code)) return false;
    const isOfDocument = !path.includes("/") && !places.has(path);
    return !missing.has(code) || !(isOfDocument || end >= cut.start);
  });
}

/** In order of place, but first where a text breaks off: all else may follow from it. At most as many as help. */
function inOrder(problems: Problem[]): readonly Problem[] {
  const isCut = ({ code }: Problem) => Number(code === cutOff);
  problems.sort((a, b) => isCut(b) - isCut(a) || a.start - b.start || a.end - b.end);
  if (problems.length <= problemLimit) return problems;
  const { start, end } = problems[problemLimit];
  const message = `There are ${problems.length - problemLimit} more problems behind this; fix the ones before first.`;
  return [...problems.slice(0, problemLimit), { code: "more-problems", message, start, end, path: "" }];
}
