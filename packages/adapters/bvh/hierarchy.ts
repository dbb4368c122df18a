import type { Channel } from "@keyside/core";
import { isUsable, whyUnusable } from "@keyside/core/internal";
import type { Problems } from "../problems.ts";
import { Scanner, type Token } from "./scan.ts";

type Axis = "x" | "y" | "z";

/** A joint or end site as the HIERARCHY section gives it. */
export interface Joint {
  readonly id: string;
  /** Index of the parent, -1 for a root. */
  readonly parent: number;
  readonly offset: [number, number, number];
  /** One entry per column of the motion; null where the column cannot be used. */
  readonly channels: (Channel | null)[];
  /** Rotation axes in the order in which they are listed. */
  readonly turns: Axis[];
  /** Where its name stands in the text. */
  readonly start: number;
  readonly end: number;
}

export interface BvhHierarchy {
  readonly joints: readonly Joint[];
  /** Offset behind the MOTION keyword; -1 where there is none. */
  readonly motionAt: number;
}

const keywords = new Set(["hierarchy", "root", "joint", "end", "offset", "channels", "motion", "{", "}"]);
const kinds = {
  position: "translation",
  translation: "translation",
  rotation: "rotation",
  scale: "scale",
} as const;

/** Reads the HIERARCHY section; what cannot be read becomes a problem and is passed over. */
export function readHierarchy(text: string, problems: Problems): BvhHierarchy {
  const scanner = new Scanner(text);
  const joints: Joint[] = [];
  const taken = new Set<string>();
  const open: { joint: number; brace: Token }[] = [];
  const hasOffset = new Set<number>();
  let current = -1;
  let motionAt = -1;
  for (let token = scanner.next(); token !== null; token = scanner.next()) {
    const word = token.text.toLowerCase();
    if (word === "motion") {
      motionAt = token.end;
      break;
    }
    const parent = open[open.length - 1]?.joint ?? -1;
    if (word === "hierarchy") continue;
    if (word === "root" || word === "joint") {
      current = addJoint(word === "root" ? -1 : parent, scanner, token, joints, taken, problems);
    } else if (word === "end" || word === "endsite") {
      current = addEnd(parent, scanner, token, joints, taken);
    } else if (word === "{") {
      open.push({ joint: current, brace: token });
    } else if (word === "}") {
      if (open.pop() === undefined) {
        problems.add("brace", "This closing brace has no opening one; take it out.", token.start, token.end);
      }
    } else if (word === "offset") {
      readOffset(scanner, joints[parent], token, problems);
      hasOffset.add(parent);
    } else if (word === "channels") {
      readChannels(scanner, joints[parent], token, problems);
    } else {
      const rest = scanner.restOfLine();
      problems.add(
        "keyword",
        `"${token.text}" is no keyword of a BVH hierarchy; the line is passed over.`,
        token.start,
        Math.max(token.end, rest.end),
      );
    }
  }
  for (const { brace } of open) {
    problems.add("brace", "This brace is never closed; add a closing one.", brace.start, brace.end);
  }
  joints.forEach((joint, i) => {
    if (hasOffset.has(i)) return;
    problems.add(
      "offset",
      `"${joint.id}" has no OFFSET; it is taken to stand at its parent.`,
      joint.start,
      joint.end,
      `nodes/${i}`,
    );
  });
  return { joints, motionAt };
}

function addJoint(
  parent: number,
  scanner: Scanner,
  keyword: Token,
  joints: Joint[],
  taken: Set<string>,
  problems: Problems,
): number {
  const name = scanner.restOfLine();
  const at = name.text === "" ? keyword : name;
  const path = `nodes/${joints.length}`;
  if (name.text === "") {
    problems.add("joint-name", "This joint has no name; give it one.", at.start, at.end, path);
  }
  const id = unused(name.text === "" ? "joint" : name.text, taken);
  if (name.text !== "" && id !== name.text) {
    const message = `Two joints are called "${name.text}"; this one is read as "${id}". Give each a name of its own.`;
    problems.add("duplicate-node", message, at.start, at.end, path);
  }
  if (parent < 0 && keyword.text.toLowerCase() === "joint") {
    const message = `"${id}" is a JOINT outside of any other; it is read as a ROOT.`;
    problems.add("joint-parent", message, keyword.start, keyword.end, path);
  }
  return push(joints, id, parent, at);
}

function addEnd(
  parent: number,
  scanner: Scanner,
  keyword: Token,
  joints: Joint[],
  taken: Set<string>,
): number {
  const name = scanner.restOfLine();
  const id = unused(`${joints[parent]?.id ?? "joint"}_end`, taken);
  return push(joints, id, parent, { ...keyword, end: Math.max(keyword.end, name.end) });
}

function push(joints: Joint[], id: string, parent: number, at: Token): number {
  const joint: Joint = {
    id,
    parent,
    offset: [0, 0, 0],
    channels: [],
    turns: [],
    start: at.start,
    end: at.end,
  };
  return joints.push(joint) - 1;
}

function unused(name: string, taken: Set<string>): string {
  let id = name;
  for (let n = 2; taken.has(id); n++) id = `${name}_${n}`;
  taken.add(id);
  return id;
}

function readOffset(scanner: Scanner, joint: Joint | undefined, keyword: Token, problems: Problems): void {
  for (let axis = 0; axis < 3; axis++) {
    const token = scanner.peek();
    if (token === null || keywords.has(token.text.toLowerCase())) {
      const message = `This OFFSET has ${axis} of 3 numbers; those that are missing are taken for 0.`;
      problems.add("offset", message, keyword.start, keyword.end);
      return;
    }
    scanner.next();
    const value = Number(token.text);
    if (!isUsable(value)) {
      problems.add(
        "offset",
        `"${token.text}" ${whyUnusable(value)}; it is taken for 0.`,
        token.start,
        token.end,
      );
    } else if (joint !== undefined) joint.offset[axis] = value;
  }
}

function readChannels(scanner: Scanner, joint: Joint | undefined, keyword: Token, problems: Problems): void {
  const counted = scanner.peek();
  const count = Number(counted?.text);
  const declared = Number.isInteger(count) && count >= 0 ? count : null;
  if (declared === null) {
    problems.add("channels", "CHANNELS is not followed by a count.", keyword.start, keyword.end);
  } else scanner.next();
  let read = 0;
  for (let token = scanner.peek(); token !== null; token = scanner.peek()) {
    if (keywords.has(token.text.toLowerCase())) break;
    const channel = channelOf(token.text);
    if (channel === null && declared !== null && read >= declared) break;
    scanner.next();
    read++;
    if (joint !== undefined) addChannel(joint, channel, token, problems);
  }
  if (declared !== null && read !== declared) {
    const message = `CHANNELS says ${declared} and lists ${read}; the ${read} listed are read.`;
    problems.add("channels", message, keyword.start, keyword.end);
  }
}

function addChannel(joint: Joint, channel: Channel | null, token: Token, problems: Problems): void {
  if (channel === null) {
    const message = `"${token.text}" is no BVH channel (Xposition … Zrotation); its column is passed over.`;
    problems.add("channel-name", message, token.start, token.end);
  } else if (joint.channels.includes(channel)) {
    const message = `"${joint.id}" lists ${token.text} twice; the second column is passed over.`;
    problems.add("channel-name", message, token.start, token.end);
    joint.channels.push(null);
    return;
  } else if (channel.startsWith("scale")) {
    const message = `${token.text} is no channel of the BVH format; it is read as a scale factor.`;
    problems.add("scale-channel", message, token.start, token.end);
  }
  joint.channels.push(channel);
  if (channel?.startsWith("rotation.")) joint.turns.push(channel.slice(-1) as Axis);
}

function channelOf(word: string): Channel | null {
  const match = /^([xyz])[_-]?(position|translation|rotation|scale)$/i.exec(word);
  if (match === null) return null;
  const kind = kinds[match[2].toLowerCase() as keyof typeof kinds];
  return `${kind}.${match[1].toLowerCase() as Axis}`;
}
