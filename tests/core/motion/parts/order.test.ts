import { describe, expect, test } from "vitest";
import {
  bipedDocument,
  eased,
  everyFrame,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { reachOrder, turnOrder, turnStarts } from "../../../../packages/core/motion/parts/order.ts";
import { notesOfCheck, studyOf } from "../../../support/shots.ts";

const up = [0, 1, 0] as const;

/** A turn of hips, chest and head in the world, each by an angle from a frame to another. */
const turning = (starts: { hips: number; chest: number; head: number }, frames = 20, angle = 60) => {
  const course = (start: number) => eased(start, start + frames, 0, angle);
  const [hips, chest, head] = [course(starts.hips), course(starts.chest), course(starts.head)];
  return bipedDocument({
    "hips rotation.y": everyFrame(1, 72, hips),
    "spine rotation.y": everyFrame(1, 72, (frame) => chest(frame) - hips(frame)),
    "head rotation.y": everyFrame(1, 72, (frame) => head(frame) - chest(frame)),
  });
};

const lagsOf = (order: ReturnType<typeof turnOrder>) =>
  Object.fromEntries(order.map(({ part, frames }) => [part, frames]));

describe("the order of a turn", () => {
  test("tells by how many frames head, trunk and hips follow each other", () => {
    const order = turnOrder(studyOf(turning({ head: 20, chest: 23, hips: 27 })), 0, up, 20, 45);
    expect(order.map(({ part }) => part).slice(0, 2)).toEqual(["head", "trunk"]);
    const lags = lagsOf(order);
    expect(lags.head).toBe(0);
    expect(lags.trunk).toBeCloseTo(3, 1);
    expect(lags.hips).toBeCloseTo(7, 1);
    for (const { lag, frames } of order) expect(lag).toBeCloseTo(frames / 24, 9);
  });

  test("knows the lags of people who do not know where they turn (Anastasopoulos and others 2009)", () => {
    const frame = (seconds: number) => 10 + 24 * (seconds - turnStarts.head);
    const starts = {
      head: frame(turnStarts.head),
      chest: frame(turnStarts.trunk),
      hips: frame(turnStarts.foot),
    };
    const order = turnOrder(studyOf(turning(starts)), 0, up, 10, 40);
    const lags = Object.fromEntries(order.map(({ part, lag }) => [part, lag]));
    expect(lags.trunk).toBeCloseTo(turnStarts.trunk - turnStarts.head, 1);
    expect(lags.hips).toBeCloseTo(turnStarts.foot - turnStarts.head, 1);
    // The feet hang on the hips here.
    expect(lags.foot).toBeCloseTo(lags.hips!, 6);
  });

  test("compares each part with its own speed: a small turn starts with a large one of the same timing", () => {
    const by = (share: number) => (frame: number) => share * eased(10, 30, 0, 60)(frame);
    const document = bipedDocument({
      "hips rotation.y": everyFrame(1, 48, by(0.3)),
      "spine rotation.y": everyFrame(1, 48, by(0.3)),
      "head rotation.y": everyFrame(1, 48, by(0.4)),
    });
    for (const { frames } of turnOrder(studyOf(document), 0, up, 9, 29)) expect(frames).toBeLessThan(0.05);
  });

  test("a nod is no part of a turn, and what hardly turns takes none", () => {
    const document = bipedDocument({
      "head rotation.y": everyFrame(1, 48, eased(10, 30, 0, 60)),
      "spine rotation.x": everyFrame(1, 48, eased(5, 15, 0, 30)),
    });
    expect(turnOrder(studyOf(document), 0, up, 9, 29)).toEqual([]);
  });

  test("is empty where nothing turns, or for samples at the ends of the range", () => {
    const still = studyOf(bipedDocument({ "hips translation.y": [[1, 0]] }));
    expect(turnOrder(still, 0, up, 0, 0)).toEqual([]);
    expect(reachOrder(still, 0, "left", 0, 0)).toEqual([]);
    const turned = studyOf(turning({ head: 1, chest: 1, hips: 1 }));
    expect(turnOrder(turned, 0, up, 0, 71).length).toBeGreaterThan(1);
  });
});

test("the order of a reach goes from trunk to hand as its joints are offset", () => {
  const document = bipedDocument({
    "spine rotation.y": everyFrame(1, 60, eased(10, 30, 0, 20)),
    "upper_arm_l rotation.x": everyFrame(1, 60, eased(13, 33, 0, -60)),
    "forearm_l rotation.x": everyFrame(1, 60, eased(17, 37, 0, -40)),
  });
  const order = reachOrder(studyOf(document), 0, "left", 9, 40);
  expect(order.map(({ part }) => part)).toEqual(["trunk", "upper arm", "forearm"]);
  expect(order.map(({ frames }) => Math.round(frames))).toEqual([0, 3, 7]);
});

describe("notes tell it", () => {
  test("block-move says that all start as one", () => {
    const [note] = notesOfCheck(turning({ head: 10, chest: 10, hips: 10 }), "block-move");
    expect(note!.message).toMatch(
      /; head, trunk, hips and foot start as one$|; [a-z, ]+ and [a-z]+ start as one$/,
    );
  });

  test("lone-joint says what follows the head after all, and when", () => {
    const document = bipedDocument({
      "head rotation.y": everyFrame(1, 72, eased(10, 20, 0, 50)),
      "spine rotation.y": everyFrame(1, 72, eased(28, 48, 0, 30)),
    });
    const [note] = notesOfCheck(document, "lone-joint");
    expect(note!.message).toMatch(/; head first, trunk 1\d(\.\d)? frames later$/);
  });

  test("same-frame says the order of the turn in it", () => {
    const course = eased(12, 30, 0, 40);
    const document = bipedDocument(
      Object.fromEntries(
        ["hips", "spine", "head", "upper_arm_l", "upper_arm_r", "forearm_l", "forearm_r"].map((node) => [
          `${node} rotation.y`,
          everyFrame(1, 60, course),
        ]),
      ),
    );
    const [note] = notesOfCheck(document, "same-frame");
    expect(note!.message).toMatch(/ start as one$/);
  });
});
