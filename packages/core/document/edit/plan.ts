import { type Channel, type Curve, interpolations, type Problem, type Shot } from "../model.ts";
import { quoted } from "../scan/cursor.ts";
import { handleStride } from "../scan/key-buffer.ts";
import { absurd } from "../terms.ts";
import { meant } from "../validate/names.ts";
import type { KeyEdit, KeyHandle, KeyValue, SetKey } from "./key-edit.ts";

/** Frames closer than this name the same key. */
const sameFrame = 1e-6;

/** A key that an edit touches, as it is to be. */
export interface TouchedKey {
  /** Index of the key in the curve as it was; -1 for a new key. */
  readonly source: number;
  /** Which edit touched it last, for messages. */
  edit: number;
  frame: number;
  values: readonly number[];
  mode: number;
  ownMode: boolean;
  /** Stored as in `Curve.handles`; null where the key has none. */
  handles: Float64Array | null;
  isMoved: boolean;
  isValueNew: boolean;
  areExtrasNew: boolean;
}

/** What is to be done to one curve. */
export interface CurvePlan {
  /** The curve as it was; one without keys where the channel had none. */
  readonly curve: Curve;
  readonly isNew: boolean;
  /** Indices of keys that go. */
  readonly removed: Set<number>;
  /** Keys that change, move or are new; in order of time once the plan is made. */
  touched: TouchedKey[];
}

export interface Plans {
  readonly plans: readonly CurvePlan[];
  readonly problems: readonly Problem[];
}

/** Works out what edits do to each curve, and which cannot be made. */
export function planEdits(shot: Shot, edits: readonly KeyEdit[]): Plans {
  const problems: Problem[] = [];
  const plans = new Map<string, CurvePlan>();
  const report = (edit: number, code: string, message: string) => {
    problems.push({ code, message, start: 0, end: 0, path: `edits/${edit}` });
  };
  const nodeIds = new Set(shot.header.nodes.map((node) => node.id));
  edits.forEach((edit, index) => {
    const wrong = whatIsWrong(edit, nodeIds);
    if (wrong !== null) {
      report(index, wrong.code, wrong.message);
      return;
    }
    const name = `${edit.node} ${edit.channel}`;
    let plan = plans.get(name);
    if (plan === undefined) {
      plan = planFor(shot, edit);
      plans.set(name, plan);
    }
    const missing = touch(plan, edit, index);
    if (missing !== null) report(index, "no-such-key", missing);
  });
  for (const plan of plans.values()) settle(plan, report);
  return { plans: [...plans.values()], problems };
}

interface Wrong {
  readonly code: string;
  readonly message: string;
}

function whatIsWrong(edit: KeyEdit, nodeIds: ReadonlySet<string>): Wrong | null {
  if (!nodeIds.has(edit.node)) {
    return {
      code: "unknown-node",
      message: `There is no node ${quoted(edit.node)}${meant(edit.node, [...nodeIds])}`,
    };
  }
  const numbers = [edit.frame, ...(edit.kind === "move" ? [edit.toFrame] : []), ...numbersOfEdit(edit)];
  if (!numbers.every((number) => Math.abs(number) <= absurd)) {
    return {
      code: "not-finite",
      message: `Frames, values and handles have to be finite numbers of a size that motion has.`,
    };
  }
  const width = edit.channel === "rotation" ? 4 : 1;
  if (edit.kind !== "remove" && edit.value !== undefined && valuesOf(edit.value).length !== width) {
    const due = width === 1 ? "one number" : "a quaternion [x, y, z, w]";
    return { code: "value-kind", message: `A key of "${edit.channel}" holds ${due}.` };
  }
  if (
    width === 4 &&
    edit.kind !== "remove" &&
    edit.value !== undefined &&
    valuesOf(edit.value).every((v) => v === 0)
  ) {
    return { code: "zero-quaternion", message: "A quaternion of length zero is no rotation." };
  }
  if (edit.kind === "set") {
    for (const handle of [edit.handles?.in, edit.handles?.out]) {
      if (handle === undefined || handle === null) continue;
      const length = typeof handle === "number" ? 1 : handle.length;
      if (width === 4 ? length === 4 : length <= 2) continue;
      const due = width === 4 ? "a slope of four numbers" : "[frames, value] or a slope";
      return { code: "handle-form", message: `A handle of "${edit.channel}" is ${due}.` };
    }
  }
  return null;
}

function numbersOfEdit(edit: KeyEdit): readonly number[] {
  if (edit.kind === "remove") return [];
  const values = edit.value === undefined ? [] : valuesOf(edit.value);
  if (edit.kind === "move") return values;
  const handles = [edit.handles?.in, edit.handles?.out].filter(
    (handle) => handle !== undefined && handle !== null,
  );
  return [...values, ...handles.flatMap((handle) => (typeof handle === "number" ? [handle] : [...handle]))];
}

function valuesOf(value: KeyValue): readonly number[] {
  return typeof value === "number" ? [value] : value;
}

function planFor(shot: Shot, edit: KeyEdit): CurvePlan {
  const curve = shot.curves.find((other) => other.node === edit.node && other.channel === edit.channel);
  return {
    curve: curve ?? emptyCurve(edit.node, edit.channel),
    isNew: curve === undefined,
    removed: new Set(),
    touched: [],
  };
}

function emptyCurve(node: string, channel: Channel): Curve {
  return {
    node,
    channel,
    interpolation: "linear",
    width: channel === "rotation" ? 4 : 1,
    frames: new Float64Array(0),
    values: new Float64Array(0),
    modes: new Uint8Array(0),
    handles: null,
    ownModes: null,
    place: null,
  };
}

/** Puts one edit into the plan; says what is missing if there is no key for it. */
function touch(plan: CurvePlan, edit: KeyEdit, index: number): string | null {
  const source = keyAt(plan.curve.frames, edit.frame);
  let key = plan.touched.find((other) =>
    source >= 0
      ? other.source === source
      : other.source < 0 && Math.abs(other.frame - edit.frame) <= sameFrame,
  );
  if (source < 0 && edit.kind !== "set") {
    return `There is no key of "${edit.channel}" of ${quoted(edit.node)} at frame ${edit.frame}.`;
  }
  if (edit.kind === "remove") {
    plan.removed.add(source);
    plan.touched = plan.touched.filter((other) => other !== key);
    return null;
  }
  if (plan.removed.has(source) && edit.kind === "move") {
    return `The key of "${edit.channel}" of ${quoted(edit.node)} at frame ${edit.frame} is taken out by an edit before.`;
  }
  plan.removed.delete(source);
  if (key === undefined) {
    key = source >= 0 ? keyAsItWas(plan.curve, source, index) : newKey(plan.curve, edit.frame, index);
    plan.touched.push(key);
  }
  key.edit = index;
  if (edit.value !== undefined) {
    key.values = valuesOf(edit.value);
    key.isValueNew = true;
  }
  if (edit.kind === "move") {
    key.isMoved = key.isMoved || edit.toFrame !== key.frame;
    key.frame = edit.toFrame;
  } else setExtras(key, edit, plan.curve);
  return null;
}

/** Index of the key at a frame, -1 where there is none. */
function keyAt(frames: Float64Array, frame: number): number {
  let low = 0;
  let high = frames.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle] < frame - sameFrame) low = middle + 1;
    else high = middle;
  }
  return low < frames.length && Math.abs(frames[low] - frame) <= sameFrame ? low : -1;
}

function keyAsItWas(curve: Curve, source: number, edit: number): TouchedKey {
  const { width, handles } = curve;
  const stride = handleStride(width);
  return {
    source,
    edit,
    frame: curve.frames[source],
    values: [...curve.values.subarray(source * width, (source + 1) * width)],
    mode: curve.modes[source],
    ownMode: curve.ownModes?.[source] === 1,
    handles: handles === null ? null : handles.slice(source * stride, (source + 1) * stride),
    isMoved: false,
    isValueNew: false,
    areExtrasNew: false,
  };
}

function newKey(curve: Curve, frame: number, edit: number): TouchedKey {
  const mode = interpolations.indexOf(curve.interpolation);
  return {
    source: -1,
    edit,
    frame,
    values: [],
    mode,
    ownMode: false,
    handles: null,
    isMoved: false,
    isValueNew: true,
    areExtrasNew: true,
  };
}

function setExtras(key: TouchedKey, edit: SetKey, curve: Curve): void {
  const { interpolation, handles } = edit;
  if (interpolation !== undefined) {
    key.ownMode = interpolation !== null;
    key.mode = interpolations.indexOf(interpolation ?? curve.interpolation);
    key.areExtrasNew = true;
  }
  if (handles?.in !== undefined) setHandle(key, curve.width, 0, handles.in);
  if (handles?.out !== undefined) setHandle(key, curve.width, 1, handles.out);
}

function setHandle(key: TouchedKey, width: 1 | 4, side: 0 | 1, handle: KeyHandle): void {
  const half = handleStride(width) / 2;
  key.handles ??= new Float64Array(half * 2).fill(Number.NaN);
  key.areExtrasNew = true;
  if (handle === null) key.handles.fill(Number.NaN, side * half, (side + 1) * half);
  else key.handles.set(typeof handle === "number" ? [Number.NaN, handle] : handle, side * half);
}

/** Brings the touched keys in order of time, and reports keys that would stand on one another. */
function settle(plan: CurvePlan, report: (edit: number, code: string, message: string) => void): void {
  const { curve, removed, touched } = plan;
  touched.sort((a, b) => a.frame - b.frame);
  const moving = new Set(touched.map((key) => key.source));
  touched.forEach((key, index) => {
    const before = index > 0 ? touched[index - 1] : null;
    const other = keyAt(curve.frames, key.frame);
    const stays = other >= 0 && other !== key.source && !removed.has(other) && !moving.has(other);
    if (!stays && !(before !== null && Math.abs(before.frame - key.frame) <= sameFrame)) return;
    const message = `There is already a key of "${curve.channel}" of ${quoted(curve.node)} at frame ${key.frame}; move it, or take it out first.`;
    report(key.edit, "key-there", message);
  });
}
