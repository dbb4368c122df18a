import fc from "fast-check";
import type { KeyEdit } from "../../../packages/core/document/edit.ts";
import { type Channel, channels, interpolations, type Shot } from "../../../packages/core/document/model.ts";
import type { DocumentHeader, NodeSpec } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import type { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import type { ResolvedSettings } from "../../../packages/core/settings/settings.ts";

/**
 * Random edits of whatever shot a session holds. An edit is drawn as a few plain numbers and read against the shot as
 * it is when its turn comes, so that a failing sequence can be made shorter.
 */
export interface RandomEdit {
  readonly kind: keyof typeof kinds;
  /** Chooses a curve or a node. */
  readonly which: number;
  /** Chooses a key, or where something new goes. */
  readonly at: number;
  /** From -1 to 1: how far, which way. */
  readonly by: number;
}

/** The settings among which an edit chooses. */
export const chosenSettings: readonly ResolvedSettings[] = [
  resolveSettings(registry),
  resolveSettings(registry, { style: "snappy" }),
  resolveSettings(registry, { rate: 12 }),
  resolveSettings(registry, { tiers: { minor: 0.1, major: 0.2 }, checks: { pop: { tier: "polish" } } }),
  resolveSettings(registry, { checks: { "hard-stop": { on: false }, twinning: { on: false } } }),
  resolveSettings(registry, { style: "twos", rate: 30 }),
];

type Make = (session: ShotSession, edit: RandomEdit) => void;

const kinds = {
  set: (session, edit) => session.edit([setKey(session.shot, edit)]),
  bend: (session, edit) => session.edit([bentKey(session.shot, edit)]),
  newKey: (session, edit) => session.edit([newKey(session.shot, edit)]),
  move: (session, edit) => session.edit([movedKey(session.shot, edit)]),
  remove: (session, edit) => session.edit([removedKey(session.shot, edit)]),
  many: (session, edit) => {
    const { shot } = session;
    const next = (n: number) => ({ ...edit, which: edit.which + 7 * n, at: edit.at + 3 * n });
    session.edit([
      setKey(shot, edit),
      bentKey(shot, next(1)),
      setKey(shot, next(2)),
      movedKey(shot, next(3)),
    ]);
  },
  wholeCurve: (session, edit) => {
    const curve = pick(session.shot.curves, edit.which);
    if (curve === undefined || curve.width === 4) return;
    session.edit(
      [...curve.frames].map((frame, key) => ({
        ...placeOf(curve, key),
        kind: "set",
        value: curve.values[key] + edit.by * 10 * Math.sin(frame),
      })),
    );
  },
  curveOut: (session, edit) => {
    const { shot } = session;
    const out = pick(shot.curves, edit.which);
    session.replace({ ...shot, curves: shot.curves.filter((curve) => curve !== out) });
  },
  curveUp: (session, edit) => {
    const { shot } = session;
    const up = pick(shot.curves, edit.which);
    if (up === undefined) return;
    session.replace({ ...shot, curves: [up, ...shot.curves.filter((curve) => curve !== up)] });
  },
  nodeIn: (session, { which, at, by }) => {
    const { shot } = session;
    const { nodes } = shot.header;
    const id = `extra_${at % 5}`;
    if (nodes.some((node) => node.id === id)) return;
    const parent = pick(nodes, which);
    const node: NodeSpec = {
      id,
      ...(parent === undefined ? {} : { parent: parent.id }),
      translation: [10 * by, 5, 0],
    };
    const into = at % (nodes.length + 1);
    withHeader(session, { nodes: [...nodes.slice(0, into), node, ...nodes.slice(into)] });
  },
  nodeOut: (session, { which }) => {
    const { shot } = session;
    const out = pick(shot.header.nodes, which);
    if (out === undefined || shot.header.nodes.length < 2) return;
    const nodes = shot.header.nodes
      .filter((node) => node !== out)
      .map((node) => (node.parent === out.id ? without(node, "parent") : node));
    const curves = shot.curves.filter((curve) => curve.node !== out.id);
    session.replace({ ...shot, header: { ...shot.header, nodes }, curves });
  },
  nodeShape: (session, { which, at, by }) => {
    const { nodes } = session.shot.header;
    const old = pick(nodes, which);
    if (old === undefined) return;
    const changed: NodeSpec =
      at % 3 === 0
        ? { ...old, translation: [by, 20 * by, 1] }
        : at % 3 === 1
          ? { ...old, rotation: [0, 90 * by, 0] }
          : { ...old, rotationOrder: at % 2 === 0 ? "zxy" : "yxz" };
    withHeader(session, { nodes: nodes.map((node) => (node === old ? changed : node)) });
  },
  contact: (session, { which, at, by }) => {
    const { header, range } = session.shot;
    const node = pick(header.nodes, which);
    if (node === undefined) return;
    const from = range[0] + (at % 10);
    const contacts = [{ node: node.id, frames: [from, from + 6] as [number, number], slides: by > 0.5 }];
    if (by < -0.5 && header.contacts !== undefined) withHeader(session, {}, "contacts");
    else withHeader(session, { contacts });
  },
  surface: (session, { by }) => {
    if (by < -0.5 && session.shot.header.surfaces !== undefined) withHeader(session, {}, "surfaces");
    else withHeader(session, { surfaces: [{ id: "floor", normal: [0, 1, 0], height: by }] });
  },
  camera: (session, { which, at, by }) => {
    const node = pick(session.shot.header.nodes, which);
    if (node === undefined || by < -0.5) withHeader(session, {}, "cameras");
    else
      withHeader(session, { cameras: [{ id: "eye", node: node.id, verticalFieldOfView: 20 + (at % 40) }] });
  },
  figures: (session, { which, by }) => {
    const { nodes } = session.shot.header;
    const root = pick(nodes, which);
    if (root === undefined || by < -0.5) withHeader(session, {}, "figures");
    else withHeader(session, { figures: [{ id: "someone", stature: 1.7 + by, parts: { root: root.id } }] });
  },
  unit: (session, { by }) =>
    withHeader(session, {
      space: by > 0 ? { metresPerUnit: 0.01 + by, up: "y", angle: "degrees" } : { up: "z", angle: "degrees" },
    }),
  range: (session, { at, by }) => {
    const { range } = session.shot;
    const first = range[0] + Math.round(2 * by);
    session.replace({ ...session.shot, range: [first, Math.max(first, range[1] - 2 + (at % 5))] });
  },
  rate: (session, { at }) =>
    session.replace({ ...session.shot, frameRate: { numerator: 24 + (at % 3) * 3, denominator: 1 } }),
  settings: (session, { which }) => session.configure(chosenSettings[which % chosenSettings.length]),
} satisfies Record<string, Make>;

/** Edits of keys, drawn more often than others as they are what an animator does most. */
const keyKinds = ["set", "bend", "newKey", "move", "remove", "many", "wholeCurve"] as const;
const otherKinds = (Object.keys(kinds) as RandomEdit["kind"][]).filter(
  (kind) => !(keyKinds as readonly string[]).includes(kind),
);

/** Any edit; about one in four is of something else than keys. */
export const anyEdit: fc.Arbitrary<RandomEdit> = fc.record({
  kind: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...keyKinds) },
    { weight: 1, arbitrary: fc.constantFrom(...otherKinds) },
  ),
  which: fc.nat(200),
  at: fc.nat(200),
  by: fc.double({ min: -1, max: 1, noNaN: true }),
});

/** Only edits of keys. */
export const anyKeyEdit: fc.Arbitrary<RandomEdit> = anyEdit.map((edit) =>
  (keyKinds as readonly string[]).includes(edit.kind) ? edit : { ...edit, kind: "set" },
);

/** Makes an edit in a session. */
export function make(session: ShotSession, edit: RandomEdit): void {
  kinds[edit.kind](session, edit);
}

function pick<T>(items: readonly T[], which: number): T | undefined {
  return items[which % Math.max(1, items.length)];
}

type Curve = Shot["curves"][number];

function placeOf(curve: Curve, key: number): Pick<KeyEdit, "node" | "channel" | "frame"> {
  return { node: curve.node, channel: curve.channel, frame: curve.frames[key] };
}

/** A key by numbers; an edit of a shot without keys makes the first one. */
function keyBy(shot: Shot, { which, at }: RandomEdit): { curve: Curve; key: number } | null {
  const curve = pick(shot.curves, which);
  return curve === undefined || curve.frames.length === 0 ? null : { curve, key: at % curve.frames.length };
}

function setKey(shot: Shot, edit: RandomEdit): KeyEdit {
  const found = keyBy(shot, edit);
  if (found === null) return newKey(shot, edit);
  const { curve, key } = found;
  const size = curve.channel.startsWith("rotation") ? 60 : curve.channel.startsWith("scale") ? 0.2 : 15;
  return {
    ...placeOf(curve, key),
    kind: "set",
    value: curve.width === 4 ? [edit.by, 0.3, 0.2, 0.8] : curve.values[key] + size * edit.by,
  };
}

function bentKey(shot: Shot, edit: RandomEdit): KeyEdit {
  const found = keyBy(shot, edit);
  if (found === null || found.curve.width === 4) return setKey(shot, edit);
  const { curve, key } = found;
  const interpolation = interpolations[edit.which % interpolations.length];
  const isBezier = interpolation === "bezier";
  return {
    ...placeOf(curve, key),
    kind: "set",
    value: curve.values[key],
    interpolation,
    handles: isBezier ? { in: [-1, edit.by], out: [1, 5 * edit.by] } : { in: null, out: null },
  };
}

function newKey(shot: Shot, { which, at, by }: RandomEdit): KeyEdit {
  const node = pick(shot.header.nodes, which);
  const channel = channels[at % (channels.length - 1)] as Channel;
  const frame = shot.range[0] + (at % Math.max(1, shot.range[1] - shot.range[0]));
  const value = channel.startsWith("scale") ? 1 + by / 4 : 20 * by;
  return { kind: "set", node: node?.id ?? "", channel, frame, value };
}

function movedKey(shot: Shot, edit: RandomEdit): KeyEdit {
  const found = keyBy(shot, edit);
  if (found === null) return newKey(shot, edit);
  const { curve, key } = found;
  const toFrame = curve.frames[key] + Math.round(6 * edit.by) / (edit.at % 7 === 0 ? 4 : 1);
  return { ...placeOf(curve, key), kind: "move", toFrame };
}

function removedKey(shot: Shot, edit: RandomEdit): KeyEdit {
  const found = keyBy(shot, edit);
  return found === null ? newKey(shot, edit) : { ...placeOf(found.curve, found.key), kind: "remove" };
}

function withHeader(session: ShotSession, change: Partial<DocumentHeader>, out?: keyof DocumentHeader): void {
  const { shot } = session;
  const changed = { ...shot.header, ...change };
  session.replace({ ...shot, header: out === undefined ? changed : without(changed, out) });
}

function without<T extends object, K extends keyof T>(object: T, key: K): T {
  const { [key]: _, ...rest } = object;
  return rest as T;
}
