import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { type JudgedVersion, judgeVersion } from "../../../../packages/server/judge/shots/judged-version.ts";
import { loadShot } from "../../../../packages/server/judge/shots/load.ts";
import { bipedDocument, bipedNodes, everyFrame } from "../../../support/shots.ts";

const settings = resolveSettings(registry);

/**
 * A document, or any text, read and judged as a file of that name.
 * @param review text of the review beside it; none if left out
 */
export async function judged(
  document: CurveDocument | string,
  file = "shot.curves.json",
  review?: string,
): Promise<JudgedVersion> {
  const text = typeof document === "string" ? document : writeDocument(document);
  const bytes = new TextEncoder().encode(text);
  const loaded = await loadShot(file, {
    ...{ cwd: "/", review },
    files: { ...diskFiles, read: async () => bytes },
  });
  return judgeVersion(loaded, settings);
}

/** A biped that swings its left arm; on the frames that are named the forearm is off by so many degrees. */
export function wavingDocument(
  off: Readonly<Record<number, number>> = { 24: 30 },
  more: Partial<CurveDocument> = {},
): CurveDocument {
  const swing = (frame: number) => -40 + 35 * Math.sin((2 * Math.PI * (frame - 1)) / 36);
  return bipedDocument(
    {
      "upper_arm_l rotation.z": everyFrame(1, 48, (frame) => swing(frame)),
      "forearm_l rotation.y": everyFrame(1, 48, (frame) => swing(frame - 3) / 2 + (off[frame] ?? 0)),
      "hand_l rotation.z": everyFrame(1, 48, (frame) => swing(frame - 5) / 3),
      "head rotation.x": everyFrame(1, 48, (frame) => 4 * Math.sin((2 * Math.PI * (frame - 1)) / 60)),
    },
    { range: [1, 48], more },
  );
}

/** A camera 3.5 m before the biped, at the height of its chest, that looks at it. */
export const withCamera: Partial<CurveDocument> = {
  nodes: [...bipedNodes, { id: "cam", translation: [0, 1.2, 3.5] }],
  cameras: [{ id: "shotcam", node: "cam", verticalFieldOfView: 40, aspect: 16 / 9 }],
};

/** A page without its script and its style. */
export function withoutCode(page: string): string {
  return page.replace(/<script>[\s\S]*?<\/script>|<style>[\s\S]*?<\/style>|<!doctype[^>]*>/gi, "");
}

/** Whether every element of a piece of markup is closed, in the right order; gives what is wrong, or null. */
export function unbalanced(markup: string): string | null {
  const empty = new Set(["meta", "input", "br"]);
  const open: string[] = [];
  const body = withoutCode(markup);
  for (const [, close, name, self] of body.matchAll(/<(\/?)([a-zA-Z][\w-]*)(?:"[^"]*"|[^">])*?(\/?)>/g)) {
    if (self === "/" || empty.has(name)) continue;
    if (close === "") open.push(name);
    else if (open.pop() !== name) return `</${name}> closes something else`;
  }
  return open.length === 0 ? null : `<${open.at(-1)}> is not closed`;
}
