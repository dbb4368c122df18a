import { type Arbitrary, array, assert, constantFrom, integer, oneof, property, record } from "fast-check";
import { describe, expect, test } from "vitest";
import type { KeyEdit } from "../../../../packages/core/document/edit.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import type { ChannelChange, DeskKey } from "../../../../packages/desk/link.ts";
import { defaultBudget } from "../../../../packages/server/base/budget.ts";
import {
  edited,
  NotTaken,
  type TextVersion,
  versionOf,
} from "../../../../packages/server/serve/desk/desk-text.ts";
import { channelsOf, keyChanges, keysOf } from "../../../../packages/server/serve/desk/keys.ts";
import { pointDocument } from "../../../support/shots.ts";

const measure = { budget: defaultBudget, rate: undefined };
const start = versionOf(
  writeDocument(
    pointDocument(
      {
        "translation.x": [1, 4, 8, 12].map((frame) => [frame, frame / 10]),
        "translation.y": [2, 6].map((frame) => [frame, 1]),
      },
      { range: [1, 12] },
    ),
  ),
  measure,
);

const place = record({
  node: constantFrom("point"),
  channel: constantFrom("translation.x", "translation.y", "translation.z"),
  frame: integer({ min: 1, max: 12 }),
});
const value = integer({ min: -3, max: 3 });
const edit: Arbitrary<KeyEdit> = oneof(
  record({ place, value }).map(({ place, value }) => ({ kind: "set", ...place, value }) as KeyEdit),
  record({ place, value, mode: constantFrom("step", "linear", "bezier", null) }).map(
    ({ place, value, mode }) =>
      ({ kind: "set", ...place, value, interpolation: mode, handles: { out: [1, value] } }) as KeyEdit,
  ),
  record({ place, toFrame: integer({ min: 1, max: 12 }) }).map(
    ({ place, toFrame }) => ({ kind: "move", ...place, toFrame }) as KeyEdit,
  ),
  place.map((place) => ({ kind: "remove", ...place }) as KeyEdit),
);

/** All keys as a page has them that was told the changes alone. */
type Keys = Map<string, readonly DeskKey[]>;
const all = ({ shot }: TextVersion): Keys =>
  new Map(
    channelsOf(shot).map(({ node, channel }) => [`${node} ${channel}`, keysOf(shot, node, channel).keys]),
  );

function take(keys: Keys, { node, channel, at, removed, keys: come, count }: ChannelChange): void {
  const name = `${node} ${channel}`;
  const before = keys.get(name) ?? [];
  const now = [...before.slice(0, at), ...come, ...before.slice(at + removed)];
  expect(now).toHaveLength(count);
  if (count === 0) keys.delete(name);
  else keys.set(name, now);
}

describe("what pages are told of keys", () => {
  test("leads them to the keys that the text holds, whatever the edits are", () => {
    assert(
      property(array(array(edit, { minLength: 1, maxLength: 3 }), { maxLength: 6 }), (lists) => {
        let version = start;
        const told = all(start);
        for (const edits of lists) {
          let next: TextVersion;
          try {
            next = edited(version, edits, measure);
          } catch (error) {
            expect(error).toBeInstanceOf(NotTaken);
            continue;
          }
          for (const change of keyChanges(version.shot, next.shot)) take(told, change);
          version = next;
          expect(told).toEqual(all(versionOf(version.text, measure)));
        }
        // And back at once, as undo goes.
        for (const change of keyChanges(version.shot, start.shot)) take(told, change);
        expect(told).toEqual(all(start));
      }),
    );
  });
});
