import type { Channel, Interpolation, KeyEdit, SetKey } from "@keyside/core";
import { EditError } from "./errors.ts";

export type KeyValue = SetKey["value"];
/** `[frames, value]`, a slope, or four slopes of a quaternion; null takes the handle away. */
export type KeyHandle = Exclude<NonNullable<SetKey["handles"]>["in"], undefined>;

/** Channels that can be keyed. */
export const channelNames: readonly Channel[] = [
  ...(["translation.x", "translation.y", "translation.z"] as const),
  ...(["rotation.x", "rotation.y", "rotation.z"] as const),
  ...(["scale.x", "scale.y", "scale.z", "rotation"] as const),
];
/** Ways from one key to the next. */
export const interpolationNames: readonly Interpolation[] = ["step", "linear", "smooth", "bezier", "cubic"];
/** Larger numbers are no motion; the feed refuses them. */
const largest = 1e12;

/** Gives the key at a frame a value, in the document's units; makes the key where there is none. */
export function setKey(
  node: string,
  channel: Channel,
  frame: number,
  value: KeyValue,
  more: {
    readonly interpolation?: Interpolation | null;
    readonly handles?: { readonly in?: KeyHandle; readonly out?: KeyHandle };
  } = {},
): KeyEdit {
  return { kind: "set", node, channel, frame, value, ...more };
}

/** Moves the key at a frame in time, with its handles; gives it a value too where one is given. */
export function moveKey(
  node: string,
  channel: Channel,
  frame: number,
  toFrame: number,
  value?: KeyValue,
): KeyEdit {
  return { kind: "move", node, channel, frame, toFrame, ...(value === undefined ? {} : { value }) };
}

/** Takes the key at a frame out. */
export function removeKey(node: string, channel: Channel, frame: number): KeyEdit {
  return { kind: "remove", node, channel, frame };
}

/**
 * Edits of one request, checked: what is no edit is refused before it is sent.
 * @param nodes ids of the shot's nodes; null where they are not known here
 * @returns copies that hold nothing but the edits
 * @throws EditError with a sentence that names what is wrong
 */
export function checkedEdits(edits: readonly KeyEdit[], nodes: ReadonlySet<string> | null): KeyEdit[] {
  return edits.map((edit) => checked(edit, nodes));
}

function checked(edit: KeyEdit, nodes: ReadonlySet<string> | null): KeyEdit {
  const { kind, node, channel } = edit;
  if (kind !== "set" && kind !== "move" && kind !== "remove") {
    throw new EditError(`An edit is of the kind set, move or remove, not ${shown(kind)}.`);
  }
  if (typeof node !== "string" || node === "")
    throw new EditError("An edit names its node by the node's id.");
  if (nodes !== null && !nodes.has(node)) throw new EditError(`The shot has no node ${shown(node)}.`);
  if (!channelNames.includes(channel)) {
    throw new EditError(`There is no channel ${shown(channel)}; there are ${channelNames.join(", ")}.`);
  }
  const frame = number(edit.frame, `The frame of a key of ${shown(channel)} of ${shown(node)}`);
  const place = { node, channel, frame };
  const key = `the key of ${shown(channel)} of ${shown(node)} at frame ${frame}`;
  if (kind === "remove") return { kind, ...place };
  if (kind === "move") {
    const toFrame = number(edit.toFrame, `The new frame of ${key}`);
    return edit.value === undefined || edit.value === null
      ? { kind, ...place, toFrame }
      : { kind, ...place, toFrame, value: value(edit.value, channel, key) };
  }
  const set = { kind, ...place, value: value(edit.value, channel, key) };
  const { interpolation, handles } = edit;
  const isMode = interpolation === undefined || interpolation === null;
  if (!isMode && !interpolationNames.includes(interpolation)) {
    throw new EditError(
      `There is no interpolation ${shown(interpolation)}; there are ${interpolationNames.join(", ")}.`,
    );
  }
  return {
    ...set,
    ...(interpolation === undefined ? {} : { interpolation }),
    ...(handles === undefined ? {} : { handles: checkedHandles(handles, channel, key) }),
  };
}

function value(given: unknown, channel: Channel, key: string): KeyValue {
  if (channel !== "rotation") return number(given, `The value of ${key}`);
  if (!Array.isArray(given) || given.length !== 4) {
    throw new EditError(`The value of ${key} is a quaternion [x, y, z, w].`);
  }
  const [x, y, z, w] = given.map((part) => number(part, `A part of the value of ${key}`));
  if (x === 0 && y === 0 && z === 0 && w === 0) {
    throw new EditError(`The value of ${key} is a quaternion of length zero, which is no rotation.`);
  }
  return [x, y, z, w];
}

function checkedHandles(
  handles: { readonly in?: KeyHandle | undefined; readonly out?: KeyHandle | undefined },
  channel: Channel,
  key: string,
): { in?: KeyHandle; out?: KeyHandle } {
  const found: { in?: KeyHandle; out?: KeyHandle } = {};
  for (const side of ["in", "out"] as const) {
    const handle: unknown = handles[side];
    if (handle === undefined) continue;
    found[side] = handle === null ? null : checkedHandle(handle, channel, key);
  }
  return found;
}

function checkedHandle(handle: unknown, channel: Channel, key: string): KeyHandle {
  const what = `A handle of ${key}`;
  const isList = Array.isArray(handle);
  const fits = channel === "rotation" ? isList && handle.length === 4 : !isList || handle.length === 2;
  if (!fits) {
    const due = channel === "rotation" ? "a slope of four numbers" : "[frames, value] or a slope";
    throw new EditError(`${what} is ${due}.`);
  }
  return (isList ? handle.map((part) => number(part, what)) : number(handle, what)) as KeyHandle;
}

function number(given: unknown, what: string): number {
  if (typeof given === "number" && Math.abs(given) <= largest) return given;
  throw new EditError(`${what} is ${shown(given)}; it has to be a finite number of a size that motion has.`);
}

function shown(given: unknown): string {
  return typeof given === "string" ? JSON.stringify(given) : String(given);
}
