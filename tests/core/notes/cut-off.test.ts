import { expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { walkDocument } from "../../../packages/core/faults/shared/examples/gaits.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** A walk as a text in which all that is declared stands before the curves. */
function walkText(): { text: string; curveStarts: readonly number[] } {
  const { curves, ...rest } = walkDocument();
  const head = JSON.stringify(rest).slice(0, -1);
  const curveStarts: number[] = [];
  let text = `${head}, "curves": [\n`;
  for (const curve of curves) {
    curveStarts.push(text.length);
    text += `${JSON.stringify(curve)},\n`;
  }
  return { text, curveStarts };
}

const majorsOf = (shot: Shot) =>
  notesOf(studyOf(shot, defaultSettings(registry)))
    .filter(({ tier }) => tier === "major")
    .map(({ check, node }) => `${check} ${node}`);

const { text, curveStarts } = walkText();

test("of a walk that breaks off in the curves of a leg nothing heavy is said", () => {
  const last = curveStarts.length;
  for (const curve of [4, 10, 12, last - 3]) {
    const { shot, remarks } = readShot(text.slice(0, curveStarts[curve] + 200));
    expect(majorsOf(shot as Shot), `curve ${curve}`).toEqual([]);
    expect(remarks?.[0]).toMatch(/^cut off: curves of .* may be gone/);
  }
});

test("the same shot said to be whole has feet that slide: the cut is what excuses them", () => {
  const { shot } = readShot(text.slice(0, curveStarts[12] + 200));
  const { cutOff, ...whole } = shot as Shot;
  expect(cutOff).toContain("shin_r");
  expect(majorsOf(whole).some((note) => note.startsWith("contact-slide"))).toBe(true);
});
