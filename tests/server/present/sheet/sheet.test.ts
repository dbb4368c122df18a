import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { makeSheet } from "../../../../packages/server/present/sheet/make.ts";
import { sheetMarkdown } from "../../../../packages/server/present/sheet/markdown.ts";
import { sheetPage } from "../../../../packages/server/present/sheet/page.ts";
import { documentOf, everyFrame, pointDocument } from "../../../support/shots.ts";
import { judged, unbalanced, wavingDocument, withCamera, withoutCode } from "./shots.ts";

const demo = (name: string) =>
  readFileSync(new URL(`../../../../demo/shots/${name}.curves.json`, import.meta.url), "utf8");
const plainly = { previous: null, fixes: false, lightest: "polish" } as const;

/** The page of a document, and what was made for it. */
async function pageOf(
  document: CurveDocument | string,
  options: Partial<Parameters<typeof makeSheet>[1]> = {},
) {
  const sheet = makeSheet(await judged(document), { ...plainly, ...options });
  return { sheet, html: sheetPage(sheet) };
}

describe("a sheet", () => {
  test("ranks the notes, biggest first, each with its words and drawings", async () => {
    const { sheet, html } = await pageOf(wavingDocument({ 24: 30, 40: -14 }));
    expect(sheet.notes.length).toBeGreaterThan(1);
    const weights = sheet.notes.map(({ reported }) => reported.weight);
    expect(weights).toEqual([...weights].sort((a, b) => b - a));
    sheet.notes.forEach(({ number, reported, frames }, index) => {
      expect(number).toBe(index + 1);
      const from = html.indexOf(`id="note-${number}"`);
      const item = html.slice(from, html.indexOf("</li>", from));
      for (const words of [frames, reported.part, "Change", "Why"]) expect(item).toContain(words);
      expect(item.match(/<svg[^>]*role="img"/g)).toHaveLength(3);
      expect(html).toContain(`href="#note-${number}"`);
    });
  });

  test("says above the notes what many figures do alike", async () => {
    const ids = ["ann", "bob", "cas"];
    const off = (frame: number) => 20 * Math.sin(frame / 9) + (frame === 20 ? 40 : 0);
    const crowd = documentOf(
      ids.flatMap((id, k) => [
        { id: `${id}_hips`, translation: [2 * k, 1, 0] as const },
        { id: `${id}_arm`, parent: `${id}_hips`, translation: [0.3, 0.4, 0] as const },
        { id: `${id}_hand`, parent: `${id}_arm`, translation: [0.5, 0, 0] as const },
      ]),
      Object.fromEntries(ids.map((id) => [`${id}_arm rotation.z`, everyFrame(1, 48, off)])),
      {
        range: [1, 48],
        more: {
          figures: ids.map((id) => ({
            id,
            stature: 1.7,
            parts: { root: `${id}_hips`, leftUpperArm: `${id}_arm`, leftHand: `${id}_hand` },
          })),
        },
      },
    );
    const { sheet, html } = await pageOf(crowd);
    expect(sheet.alike[0]).toMatch(/^3 of 3 figures: \S+ of /);
    expect(html.indexOf("3 of 3 figures")).toBeGreaterThan(0);
    expect(html.indexOf("3 of 3 figures")).toBeLessThan(html.indexOf('id="note-1"'));
    expect(unbalanced(html)).toBeNull();
    expect(sheetMarkdown(sheet)).toContain("### Alike");
    const alone = await pageOf(wavingDocument());
    expect(alone.html).not.toContain("do alike");
    expect(sheetMarkdown(alone.sheet)).not.toContain("### Alike");
  });

  test("draws the path with a tick for each frame it shows and the noted frame's number", async () => {
    const { sheet, html } = await pageOf(wavingDocument());
    const pop = sheet.notes.find(({ reported }) => reported.check === "pop" && reported.frames?.[0] === 24);
    const from = html.indexOf(`id="note-${pop?.number}"`);
    const path = html.slice(
      html.indexOf('<figure class="path">', from),
      html.indexOf('<figure class="poses">', from),
    );
    const [, first, last] = /frames (\d+) to (\d+)/.exec(path) ?? [];
    expect(path.match(/class="tick( noted)?"/g)).toHaveLength(Number(last) - Number(first) + 1);
    expect(path).toMatch(/class="number noted"[^>]*>24</);
    expect(path).toContain('class="key"');
  });

  test("shows where the path and the body are after a fix that was tried", async () => {
    const { sheet, html } = await pageOf(wavingDocument(), { fixes: true });
    const fixed = sheet.notes.filter(({ fix }) => fix !== null);
    expect(fixed.length).toBeGreaterThan(0);
    expect(html).toContain("Verified: clears this note");
    expect(html).toContain("trail fixed");
    expect(html).toContain("graph fixed");
    expect((await pageOf(wavingDocument())).html).not.toContain("after the fix");
  });

  test("is drawn through the camera where there is one", async () => {
    const { html } = await pageOf(wavingDocument({ 24: 30 }, withCamera));
    expect(html).toContain("through shotcam");
    expect((await pageOf(wavingDocument())).html).not.toMatch(/through shotcam/);
  });

  test("says what became of the notes since the version before", async () => {
    const previous = await judged(wavingDocument({ 24: 30 }));
    const { sheet, html } = await pageOf(wavingDocument({ 40: 30 }), { previous });
    expect(sheet.since?.fixed.map(({ check }) => check)).toContain("pop");
    expect(sheet.notes.find(({ reported }) => reported.frames?.[0] === 40)?.status).toBe("new");
    expect(html).toContain("Fixed since");
    const same = await pageOf(wavingDocument({ 24: 30 }), { previous });
    expect(same.sheet.notes.every(({ status }) => status === "still there")).toBe(true);
  });

  test("leaves lighter notes out, and says how many", async () => {
    const all = await pageOf(demo("steps_0110_v1"));
    const some = await pageOf(demo("steps_0110_v1"), { lightest: "major" });
    expect(some.sheet.notes.length + some.sheet.hidden).toBe(all.sheet.notes.length);
    expect(some.html).toContain("not shown");
  });
});

describe("waived notes", () => {
  const waived = () =>
    wavingDocument(
      { 24: 30 },
      { waivers: [{ check: "pop", frames: [20, 28], reason: "the <clock> strikes", by: "Ana" }] },
    );

  test("stand apart, with who waived them and why, and are not counted", async () => {
    const open = (await pageOf(wavingDocument({ 24: 30 }))).sheet;
    const { sheet, html } = await pageOf(waived());
    expect(sheet.waived.length).toBeGreaterThan(0);
    expect(sheet.notes.length).toBe(open.notes.length - sheet.waived.length);
    expect(sheet.counts).toContain(`${sheet.waived.length} waived`);
    expect(html).toContain("the &lt;clock&gt; strikes (Ana)");
    expect(sheetMarkdown(sheet)).toContain("The &lt;clock&gt; strikes (Ana)");
  });

  test("one that was open before is neither fixed nor new", async () => {
    const previous = await judged(wavingDocument({ 24: 30 }));
    const { sheet } = await pageOf(waived(), { previous });
    expect(sheet.since?.fixed).toEqual([]);
    expect(sheet.since?.counts).toContain("waived");
  });

  test("a waiver that answers nothing is a note without drawings", async () => {
    const { sheet, html } = await pageOf(
      wavingDocument({}, { waivers: [{ check: "pop", frames: [3, 4], reason: "old" }] }),
    );
    const unused = sheet.notes.find(({ reported }) => reported.check === "unused-waiver");
    expect(unused?.title).toBe("Unused waiver");
    const from = html.indexOf(`id="note-${unused?.number}"`);
    expect(html.slice(from, html.indexOf("</li>", from))).not.toContain("<svg");
  });
});

describe("the page", () => {
  test("needs nothing but itself, and lets nothing in", async () => {
    for (const name of ["jetty_0040_v1", "quay_0070_v2"]) {
      const { html } = await pageOf(demo(name));
      expect(/(?:src|href)="(?!#)/.exec(html)).toBeNull();
      expect(/https?:|url\((?!#)|@import/.exec(html)).toBeNull();
      expect(/NaN|undefined|Infinity/.exec(withoutCode(html))).toBeNull();
      expect(html).toContain("default-src 'none'");
      expect(unbalanced(html)).toBeNull();
      const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
      expect(new Set(ids).size).toBe(ids.length);
      for (const [, target] of html.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(target);
    }
  });

  const hostile = `"><script>alert(1)</script>&'\`*[x](http://y)`;

  test("takes no name of the document for markup", async () => {
    const document = wavingDocument({ 24: 30 });
    const rename = (id: string) => (id === "forearm_l" ? hostile : id);
    const text = JSON.parse(JSON.stringify(document), (key, value) =>
      (key === "node" || key === "id" || key === "parent" || key === "leftForearm") &&
      typeof value === "string"
        ? rename(value)
        : value,
    ) as CurveDocument;
    const { html } = await pageOf({ ...text, shot: { ...text.shot, name: hostile } });
    expect(html).toContain("&lt;script&gt;alert(1)");
    // The player's and the page's own.
    expect(html.match(/<script>/g)).toHaveLength(2);
    expect(html).not.toContain("<script>alert");
    expect(unbalanced(html)).toBeNull();
  });

  test("takes no name for Markdown either", async () => {
    const document = wavingDocument({ 24: 30 });
    const sheet = makeSheet(
      await judged({ ...document, shot: { ...document.shot, name: hostile } }),
      plainly,
    );
    const text = sheetMarkdown(sheet);
    expect(text).not.toContain("<script>");
    expect(text).toContain("\\[x\\]");
    expect(text).toContain("\\*");
  });
});

describe("odd shots", () => {
  test.each<[string, CurveDocument]>([
    ["no nodes that move", documentOf([{ id: "a" }], {})],
    ["one frame", documentOf([{ id: "a" }], { "a translation.x": [[1, 2]] }, { range: [1, 1] })],
    [
      "a point and no figure",
      pointDocument({
        "translation.x": [
          [1, 0],
          [9, 0.4],
          [10, 1.4],
          [11, 0.5],
          [24, 1],
        ],
      }),
    ],
    [
      "a camera inside the figure",
      wavingDocument(
        { 24: 30 },
        {
          ...withCamera,
          cameras: [{ id: "inside", node: "chest", verticalFieldOfView: 40 }],
        },
      ),
    ],
  ])("%s: a whole page all the same", async (_, document) => {
    const { html, sheet } = await pageOf(document, { fixes: true });
    expect(unbalanced(html)).toBeNull();
    expect(/NaN|undefined|Infinity/.exec(withoutCode(html))).toBeNull();
    expect(sheetMarkdown(sheet)).toContain(sheet.notes.length === 0 ? "No notes" : "- [ ]");
  });

  test("what is broken in the document is on the sheet, in words", async () => {
    const document = wavingDocument();
    const [curve] = document.curves;
    const keys = [...curve.keys.slice(0, 9), curve.keys[3], ...curve.keys.slice(9)];
    const text = JSON.stringify({ ...document, curves: [{ ...curve, keys }, ...document.curves.slice(1)] });
    const { html, sheet } = await pageOf(text);
    expect(sheet.notes[0].reported.tier).toBe("broken");
    expect(html).toContain('class="note broken"');
    expect(unbalanced(html)).toBeNull();
  });

  test("the last of very many notes are told in words only", async () => {
    const nodes = Array.from({ length: 90 }, (_, k) => ({ id: `p${k}` }));
    const curves = Object.fromEntries(
      nodes.map(({ id }, k): [string, [number, number][]] => {
        const at = 10 + 5 * k;
        return [
          `${id} translation.x`,
          [
            [1, 0],
            [at, at / 100],
            [at + 1, at / 100 + 1.2],
            [at + 2, at / 100 + 0.02],
            [500, 5],
          ],
        ];
      }),
    );
    const { sheet, html } = await pageOf(documentOf(nodes, curves));
    expect(sheet.notes.length).toBeGreaterThan(60);
    expect(html).toContain("told in words only");
    expect(html.match(/<div class="pictures">/g)).toHaveLength(60);
  });
});

describe("in Markdown", () => {
  test("is a list of boxes with the words of the page", async () => {
    const sheet = makeSheet(await judged(demo("steps_0110_v2")), {
      ...plainly,
      previous: await judged(demo("steps_0110_v1")),
    });
    const text = sheetMarkdown(sheet);
    expect(text.match(/^- \[ \] \*\*\d+\. /gm)).toHaveLength(sheet.notes.length);
    for (const note of sheet.notes) expect(text).toContain(note.frames);
    expect(text).toContain("### Fixed since revision 1");
    expect(text).not.toContain("<svg");
  });
});
