import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { standingsOf } from "../../../motion/ground/standing.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { rigOf } from "../../../rig/rig.ts";
import type { Hull } from "../../../staging/depth.ts";
import { handThickness } from "../../../staging/flesh.ts";
import { pathsOf, type Solid, solidsOf } from "../../../staging/solids.ts";

/** A solid that can go through another one. */
export interface Piece extends Hull {
  /** What its paths are of. */
  readonly solid: Solid;
  /** Node that it moves with (rig index), and the one at its other end; the same for shapes. */
  readonly node: number;
  readonly far: number;
  /** What it is a part of, as one for all pieces of it: the top node of an object, or a node of a figure. */
  readonly owner: number;
  /** Index of the figure whose flesh it is, or on which it hangs; −1 for neither. */
  readonly figure: number;
  /** Whether it is flesh; else an object with a shape. */
  readonly isFlesh: boolean;
  /** Whether its thickness is that of a drawn body, as its nodes have no shapes. */
  readonly isGuessed: boolean;
  /** How thick it is where nothing presses it flat, metres. */
  readonly whole: number;
  readonly part: BodyPart | undefined;
}

/** Parts that give way: what goes through them is no fault. */
const loose: ReadonlySet<BodyPart | undefined> = new Set(["hair", "ears", "tail", "jaw", "prop"]);
/** Parts on which a body sits and stands, which presses them flat. */
const pressed: ReadonlySet<BodyPart | undefined> = new Set([
  "root",
  "leftThigh",
  "rightThigh",
  "leftFoot",
  "rightFoot",
  "leftToes",
  "rightToes",
]);
/** Of these the parts that are flesh as far as their surface, and give way in shapes of their own too; a sole does not. */
const soft: ReadonlySet<BodyPart | undefined> = new Set(["root", "leftThigh", "rightThigh"]);
/** Share of the thickness of a part that is pressed flat which counts; common practice: flesh gives by half. */
const pressedShare = 0.5;

/** All objects with shapes, and the flesh of all bodies. */
export function piecesOf(study: Study): readonly Piece[] {
  const figures = figuresOf(study);
  return solidsOf(study).flatMap((solid): Piece[] => {
    const { node, figure, part, radius } = solid;
    const isShape = "shape" in solid.of;
    const isFlesh = figure >= 0 && part !== undefined && part !== "prop";
    const isOfNothing = isFlesh ? loose.has(part) || figures[figure].parts.size === 0 : !isShape;
    const paths = isOfNothing ? [] : pathsOf(study, solid);
    if (paths.length === 0) return [];
    const owner = isFlesh || figure >= 0 ? node : topOf(study, node);
    const isPressed = isFlesh && (isShape ? soft : pressed).has(part);
    const drawn = isFlesh && !isShape ? thicknessOf(study, solid) : radius;
    const whole = isFlesh && !isShape && !isPressed ? Math.min(drawn, soleOf(study, solid)) : drawn;
    return [
      {
        solid,
        paths,
        radius: isPressed ? pressedShare * whole : whole,
        whole,
        node,
        far: farOf(solid),
        owner,
        figure,
        isFlesh,
        isGuessed: isFlesh && !isShape,
        part,
      },
    ];
  });
}

/** How thick a piece of flesh without shapes is, metres. */
function thicknessOf(study: Study, { figure, part, radius, of }: Solid): number {
  // The ball about a hand without bones of its own is as large as a hand is long.
  const isBall = "from" in of && of.from === of.to;
  const isHand = part === "leftHand" || part === "rightHand";
  return isBall && isHand ? handThickness * statureOf(study, figure) : radius;
}

/**
 * How thick a bone can be that ends in what a body stands on, as a forefoot: its point tells how far over the ground it
 * stands. Infinity for all other bones.
 */
function soleOf(study: Study, { figure, node, of }: Solid): number {
  let thickness = Number.POSITIVE_INFINITY;
  for (const [point, { level }] of standingsOf(study, figure)) {
    if (point === node || ("to" in of && point === of.to)) thickness = Math.min(thickness, level);
  }
  return thickness;
}

/** What tells a piece from all others of a shot. */
export function idOf({ node, far, solid: { of } }: Piece): string {
  return "shape" in of ? `${node} shape ${of.shape}` : `${node} ${far}`;
}

function farOf({ node, of }: Solid): number {
  return "shape" in of ? node : of.to;
}

function topOf(study: Study, node: number): number {
  const { parent } = rigOf(study);
  let top = node;
  while (parent[top] >= 0) top = parent[top];
  return top;
}

/** Parts of the arms that can be put into a body, and the parts of bodies into which they go. */
const reaching: readonly string[] = ["Forearm", "Hand", "Fingers"];
const bulky: ReadonlySet<BodyPart | undefined> = new Set([
  "root",
  "spine",
  "chest",
  "neck",
  "leftThigh",
  "rightThigh",
]);

/** Whether a piece of flesh is of an arm, from the elbow on. */
export function isArm({ part }: Piece): boolean {
  return part !== undefined && reaching.some((name) => part.endsWith(name));
}

/** Whether a piece of flesh is of what an arm can go into: the trunk, the neck, a thigh. */
export function isBulk({ part }: Piece): boolean {
  return bulky.has(part);
}

/** Rig indices of a hand's own arm: the joints from the shoulder to the wrist. */
export function armJointsOf(study: Study, figure: number, hand: number): readonly number[] {
  const arm = limbsOf(study, figure).find(({ kind, end }) => kind === "arm" && end === hand);
  return arm === undefined ? [hand] : [arm.root, arm.middle, arm.end];
}
