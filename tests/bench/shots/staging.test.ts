import { readShot } from "@keyside/core";
import * as three from "three";
import { beforeAll, describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import type { BuiltShot, Performance, Poses, ShotPlan, View } from "./types.d.ts";

const { plansFor } = (await load("plans.mjs")) as { plansFor: (seed: string, count: number) => ShotPlan[] };
const { build } = (await load("build.mjs")) as { build: (plan: ShotPlan) => BuiltShot };
const { pictureOf } = await load("staging/lens.mjs");
const { isStagedCleanly, headCut, lookingPast } = await load("staging/measures.mjs");
const { difference, labOf, colourOf, plainlyApart } = await load("staging/colours.mjs");
const { densePosesOf } = (await load("poses.mjs")) as { densePosesOf: (performance: Performance) => Poses };

interface SeenShot {
  readonly plan: ShotPlan;
  readonly performance: Performance & { readonly view: View };
  readonly poses: Poses;
}
let all: ShotPlan[] = [];
let seen: SeenShot[] = [];
beforeAll(() => {
  all = plansFor("seen through a camera", 24);
  seen = all.flatMap((plan) => {
    const performance = plan.perform();
    return performance.view === undefined
      ? []
      : [{ plan, performance: performance as SeenShot["performance"], poses: densePosesOf(performance) }];
  });
});

describe("shots that are seen through a camera", () => {
  test("are a good share of all, of each kind of camera", () => {
    expect(seen.length).toBeGreaterThan(all.length / 4);
    expect(seen.length).toBeLessThan(all.length);
    const flat = seen.filter(({ performance }) => performance.view.degrees === null);
    expect(flat.length).toBeGreaterThan(0);
    expect(flat.length).toBeLessThan(seen.length);
    const stands = seen.filter(({ poses, performance: { first, last, view } }) =>
      [first, (first + last) >> 1, last].every(
        (frame) =>
          JSON.stringify([poses.position(view.camera, frame), poses.orientation(view.camera, frame)]) ===
          JSON.stringify([poses.position(view.camera, first), poses.orientation(view.camera, first)]),
      ),
    );
    expect(stands.length).toBeGreaterThan(0);
    expect(stands.length).toBeLessThan(seen.length);
  });

  test("are staged cleanly by the bench's own measures, with all figures in the picture", () => {
    for (const { poses, performance } of seen) {
      expect(isStagedCleanly(poses, performance.view, performance.figures)).toBe(true);
      for (const { body } of performance.figures) {
        if (body.head === null) continue;
        for (let frame = performance.first; frame <= performance.last; frame += 10)
          expect(headCut(poses, performance.view, body, frame)).toBeLessThan(0);
      }
    }
  });

  test("show faces that look at what is declared, within the cone of a direct look", () => {
    let gazes = 0;
    for (const { poses, performance } of seen) {
      for (const { figure, target, frames } of performance.view.gazes) {
        const { body } = performance.figures.find(({ id }) => id === figure)!;
        for (let frame = frames[0]; frame <= frames[1]; frame++)
          expect(lookingPast(poses, body, target, frame)).toBeLessThanOrEqual(2.6 + 1e-6);
        gazes++;
      }
    }
    expect(gazes).toBeGreaterThan(4);
  });

  test("have colours that stand apart", () => {
    for (const { performance } of seen) {
      const { colours, background, panels } = performance.view;
      const of = performance.figures.map(({ body }) => colours[body.root]!);
      for (const [n, colour] of of.entries()) {
        expect(difference(colour, background)).toBeGreaterThan(plainlyApart);
        for (const other of of.slice(n + 1)) {
          if (performance.figures.length <= 4)
            expect(difference(colour, other)).toBeGreaterThan(plainlyApart);
        }
        for (const { id } of panels) expect(difference(colour, colours[id])).toBeGreaterThan(plainlyApart);
      }
    }
  });

  test("are the same shots with and without a camera in all else", () => {
    for (const { performance } of seen.slice(0, 4)) {
      const staged = new Set(performance.props.filter((prop) => prop.staged).map(({ id }) => id));
      const own = [...performance.tracks.keys()].filter((name) => staged.has(name.split(" ")[0]!));
      expect(own.length).toBeGreaterThan(4);
      for (const { body } of performance.figures)
        for (const { id } of body.joints) expect(staged.has(id)).toBe(false);
    }
  });
});

describe("the picture", () => {
  test("is the one that a general 3D library gives for the document", () => {
    for (const { plan } of seen.slice(0, 6)) {
      const built = build(plan);
      const { shot, problems } = readShot(built.text);
      expect(problems.map(({ message }) => message)).toEqual([]);
      const view = built.poses.performance.view!;
      const spec = shot!.header.cameras![0]!;
      expect(spec.node).toBe(built.nodeOf.get(view.camera));
      const { first, last } = built.poses.performance;
      for (const frame of [first, (first + last) >> 1, last]) {
        const eye = built.poses.position(view.camera, frame);
        const turn = built.poses.orientation(view.camera, frame);
        const half = view.extent / 2;
        const camera =
          view.degrees === null
            ? new three.OrthographicCamera(-half * view.aspect, half * view.aspect, half, -half, 0.01, 1000)
            : new three.PerspectiveCamera(view.degrees, view.aspect, 0.01, 1000);
        camera.position.set(...eye);
        camera.quaternion.set(...turn);
        camera.updateMatrixWorld();
        camera.updateProjectionMatrix();
        const picture = pictureOf(built.poses, view, frame);
        for (const { body } of built.poses.performance.figures) {
          const at = built.poses.position(body.root, frame);
          const shown = new three.Vector3(...at).project(camera);
          expect(picture(at).x).toBeCloseTo((shown.x * view.aspect) / 2, 9);
          expect(picture(at).y).toBeCloseTo(shown.y / 2, 9);
        }
      }
    }
  });
});

test("colours go to L*a*b* and back, and black is 100 from white", () => {
  for (const colour of ["#000000", "#ffffff", "#d08040", "#13579b"])
    expect(colourOf(labOf(colour))).toBe(colour);
  expect(difference("#000000", "#ffffff")).toBeCloseTo(100, 1);
});
