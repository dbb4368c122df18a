import type { Study } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { carrierOf, type Figure, figuresOf } from "../../rig/body.ts";
import { restPositionsOf, rigOf } from "../../rig/rig.ts";
import { upIndexOf } from "../../rig/up.ts";
import { contactsOf } from "../ground/contact.ts";
import { hasLimbs, unbranchedFrom } from "./branches.ts";

/** Limbs of a figure that its document declares as tails, and whose joints hang on each other, and on the body. */
export function declaredTails(study: Study, { id }: Figure): readonly (readonly number[])[] {
  const { indexOf, parent } = rigOf(study);
  const spec = (headerOf(study).figures ?? []).find((one) => one.id === id);
  return (spec?.limbs ?? []).flatMap(({ kind, nodes }) => {
    if (kind !== "tail") return [];
    const joints = nodes.flatMap((name) => indexOf.get(name) ?? []);
    const hangs = joints.length > 0 && parent[joints[0]] >= 0;
    return hangs && joints.every((node, i) => i === 0 || parent[node] === joints[i - 1]) ? [joints] : [];
  });
}

/** Fewest joints, with its tip, of a chain that its shape alone tells for a tail: two links, as for all that hangs loose. */
const fewestJoints = 3;
/** How far a joint of a tail may be off the middle of its body in the rest pose, as a share of its length (our choice). */
const mostAside = 0.1;

/**
 * The tail of a body that lies along the ground in its rest pose and whose limbs are not known: the only chain without a
 * branch that leaves its root away from the head, and keeps to the upright plane through both. What
 * stands on the ground is a limb.
 * @returns its joints from the base to the tip; none, or those of one tail
 */
export function tailsByShape(study: Study, figure: number): readonly (readonly number[])[] {
  const body = figuresOf(study)[figure];
  const rig = rigOf(study);
  const hips = carrierOf(body);
  const [head] = body.parts.get("head") ?? [];
  if (head === undefined || head === hips || body.parts.has("tail") || hasLimbs(body.parts)) return [];
  const rest = restPositionsOf(study);
  const up = upIndexOf(study);
  const [one, other] = [(up + 1) % 3, (up + 2) % 3];
  const along = (from: number, to: number, axis: number) => rest[3 * to + axis] - rest[3 * from + axis];
  const [x, z, y] = [one, other, up].map((axis) => along(hips, head, axis));
  const flat = Math.hypot(x, z);
  if (!(flat > Math.abs(y))) return [];
  /** Metres by which a node is off the plane. */
  const aside = (node: number) => Math.abs(along(hips, node, one) * z - along(hips, node, other) * x) / flat;
  const stands = new Set(contactsOf(study, figure).map(({ node }) => node));
  const tails = rig.children[hips].flatMap((base) => {
    const joints = unbranchedFrom(rig, base);
    if (joints === null || joints.length < fewestJoints || joints.some((node) => stands.has(node))) return [];
    const tip = joints[joints.length - 1];
    const long = Math.hypot(...[0, 1, 2].map((axis) => along(base, tip, axis)));
    const isBehind = along(base, tip, one) * x + along(base, tip, other) * z < 0;
    return isBehind && joints.every((node) => aside(node) < mostAside * long) ? [joints] : [];
  });
  return tails.length === 1 ? tails : [];
}
