import type { CurveDocument, NodeSpec } from "../../../document/schema.ts";
import { documentOf, everyFrame } from "../../shared/examples/documents.ts";
import { curvesWithout } from "../../shared/examples/keying.ts";
import {
  ankleHeight,
  bipedWithout,
  type Curves,
  type DocumentOptions,
  degrees,
  eased,
  type Foot,
  halfStance,
  inPoses,
  motionDocument,
  standing,
  walk,
} from "../../shared/examples/motions.ts";

/** What feet and bodies do in the examples of this fault. */

/** A left foot that stands, is lifted, and comes down again at a height over the floor. */
export const lifted =
  (height: number) =>
  (frame: number): Foot => {
    const up = eased(16, 22, 0, 0.15)(frame) - eased(24, 30, 0, 0.15 - height)(frame);
    return { at: [halfStance, ankleHeight + up, 0] };
  };
export const stance =
  (
    left: (frame: number) => Foot,
    options: DocumentOptions = {},
    curves: Curves = {},
    right: (frame: number) => Foot = () => standing("right"),
  ) =>
  (): CurveDocument =>
    motionDocument({ first: 1, last: 48, hips: () => [0, 0.88, 0], left, right }, options, curves);

/** The same, beside a right foot that goes up and down by up to 2 cm while it stands. */
export const wandering = (height: number) => (): CurveDocument =>
  motionDocument({
    first: 1,
    last: 48,
    hips: () => [0, 0.88, 0],
    left: lifted(height),
    right: (frame) => ({ at: [-halfStance, ankleHeight + 0.01 * (1 + Math.sin(frame / 4)), 0] }),
  });

/** A walk whose left foot stands 6 cm over the floor in its second stance, from frame 19 to 34, and slides on by so many metres in it. */
export const slidingAloft =
  (way: number, height = 0.06) =>
  (): CurveDocument => {
    const motion = walk();
    const up = (frame: number) => eased(14, 19, 0, height)(frame) - eased(34, 40, 0, height)(frame);
    const on = (frame: number) => eased(18, 36, 0, way)(frame) - eased(36, 48, 0, way)(frame);
    const left = (frame: number): Foot => {
      const foot = motion.left(frame);
      return { ...foot, at: [foot.at[0], foot.at[1] + up(frame), foot.at[2] + on(frame)] };
    };
    return motionDocument({ ...motion, left });
  };

/** A left foot that swings slowly, flat and 6 cm over the floor, beside one that stands, or that is lifted as well. */
export const slowSwing = (isLifted: boolean) => {
  const on = (frame: number) => 0.3 * Math.min(1, Math.max(0, (frame - 7) / 36));
  const up = (frame: number) => eased(6, 12, 0, 0.06)(frame) - eased(38, 44, 0, 0.06)(frame);
  const left = (frame: number): Foot => ({ at: [halfStance, ankleHeight + up(frame), on(frame)] });
  const right = (frame: number): Foot => ({
    at: [-halfStance, ankleHeight + (isLifted ? eased(6, 12, 0, 0.2)(frame) : 0), 0],
  });
  return stance(left, {}, {}, right);
};

/** How far the toes' ends of a foot that is pitched by 30° go under the level on which they lie flat. */
const toesDown = 0.21 * Math.sin(Math.PI / 6) + 0.07 * Math.cos(Math.PI / 6) - 0.07;

/** A left foot that comes down evenly from 15 cm, over the last frames of the shot, to a height over the floor. */
export const settling = (height: number) =>
  stance((frame) => {
    const down = Math.min(1, (frame - 26) / 20);
    const up = frame <= 26 ? eased(16, 26, 0, 0.15)(frame) : Math.max(height, 0.15 * (1 - down));
    return { at: [halfStance, ankleHeight + up, 0] };
  });

/** Poses in step keys of someone who glides over a floor, two of them 5 cm up, each a metre from the one before. */
export const gliding = (options: DocumentOptions) => (): CurveDocument => {
  const poses = [1, 6, 21, 41];
  const ahead = (frame: number) => poses.filter((pose) => pose <= frame).length - 1;
  const up = (frame: number) => (frame >= 6 && frame < 41 ? 0.05 : 0);
  const foot = (side: "left" | "right") => (frame: number) => {
    const { at } = standing(side);
    return { at: [at[0], at[1] + up(frame), ahead(frame)] as [number, number, number] };
  };
  const motion = {
    first: 1,
    last: 48,
    hips: (frame: number) => [0, 0.88 + up(frame), ahead(frame)] as [number, number, number],
    left: foot("left"),
    right: foot("right"),
  };
  return inPoses(motionDocument(motion, options), poses);
};

/** A body that goes 28 cm forward, in balance, over a left foot which keeps its place, with its toes down to a height. */
export const passing = (height: number) => (): CurveDocument =>
  motionDocument({
    first: 1,
    last: 48,
    hips: (frame) => [0, 0.86, eased(10, 34, -0.1, 0.18)(frame)],
    left: () => ({ at: [halfStance, ankleHeight + toesDown + height, 0], pitch: 30 }),
    right: () => standing("right"),
  });

/** The same stand in step keys: the left foot is up in some of five poses. */
export const posed = (height: number, raised: readonly number[]) => (): CurveDocument =>
  inPoses(
    motionDocument({
      first: 1,
      last: 48,
      hips: (frame) => [0, 0.86, 0.001 * frame],
      left: (frame) => ({
        at: [halfStance, ankleHeight + (raised.includes(frame) ? height : 0), 0],
      }),
      right: () => standing("right"),
    }),
    fivePoses,
  );
const fivePoses = [1, 11, 21, 31, 41];

/** A body that goes on, in the same poses, over a left foot that hangs in its place for two of them, with its toes down. */
export const passedInPoses = (height: number) => (): CurveDocument =>
  inPoses(
    motionDocument({
      first: 1,
      last: 48,
      hips: (frame) => [0, 0.84, frame < 21 ? -0.1 : frame < 31 ? -0.05 : 0.18],
      left: (frame) =>
        frame === 11 || frame === 21
          ? { at: [halfStance, ankleHeight + toesDown + height, 0], pitch: 30 }
          : standing("left"),
      right: () => standing("right"),
    }),
    fivePoses,
  );

/**
 * The same poses on a floor that nobody declared, and on which the body does not stand at rest: the left foot is up in
 * two of them, beside one that stands all through.
 */
export const overUnknownFloor = (height: number) => (): CurveDocument => {
  const document = posed(height, [21, 31])();
  const nodes = document.nodes.map((node) =>
    node.id === "hips" ? { ...node, translation: [0, 2, 0] as [number, number, number] } : node,
  );
  return { ...document, nodes, surfaces: [] };
};

/** A foot without a ball, which stands on its toes with its ankle so high above them from frame 24 on. */
export const onToes = (height: number, pitch: number) => (): CurveDocument => {
  const document = stance((frame) => {
    const share = eased(12, 24, 0, 1)(frame);
    return { at: [halfStance, ankleHeight + share * height, 0], pitch: share * pitch };
  })();
  return bipedWithout(/^toes_/, curvesWithout(document, /^toes_/), {
    range: [1, 48],
    more: { surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }] },
  });
};

/**
 * A low animal that stands on the ends of its four legs: their last joints lie on the floor but for 0.1 mm. The one in front on the left is
 * lifted, and comes down again to a height over where it stood. The floor may be declared a little higher than that.
 */
export const onTips =
  (height: number, floor = 0) =>
  (): CurveDocument => {
    const corners = [
      ["fore_l", 0.15, 0.3],
      ["fore_r", -0.15, 0.3],
      ["hind_l", 0.15, -0.3],
      ["hind_r", -0.15, -0.3],
    ] as const;
    const nodes: NodeSpec[] = [{ id: "body", translation: [0, 0.3001, 0] }];
    for (const [id, x, z] of corners) {
      nodes.push({ id, parent: "body", translation: [x, 0, z] });
      nodes.push({ id: `${id}_shin`, parent: id, translation: [0, -0.15, 0] });
      nodes.push({ id: `${id}_tip`, parent: `${id}_shin`, translation: [0, -0.15, 0] });
    }
    const limbs = corners.map(([id]) => ({
      id: `${id} leg`,
      kind: "leg" as const,
      nodes: [id, `${id}_shin`, `${id}_tip`],
    }));
    const up = (frame: number) => eased(16, 22, 0, 0.15)(frame) - eased(24, 30, 0, 0.15 - height)(frame);
    // Two bones of one length that fold alike take their end straight up.
    const fold = (frame: number) => degrees * Math.acos(1 - up(frame) / 0.3);
    const curves = {
      "fore_l rotation.x": everyFrame(1, 48, fold),
      "fore_l_shin rotation.x": everyFrame(1, 48, (frame) => -2 * fold(frame)),
      // Over a floor that tells how a sole lies, it is kept level.
      ...(floor > 0 && { "fore_l_tip rotation.x": everyFrame(1, 48, fold) }),
    };
    const surfaces = [{ id: "floor", normal: [0, 1, 0] as [number, number, number], height: floor }];
    return documentOf(nodes, curves, {
      range: [1, 48],
      more: { figures: [{ id: "body", limbs }], surfaces },
    });
  };
