import { expect, test } from "vitest";
import type { ReportedShot } from "../../../../packages/core/notes/report-schema.ts";
import { archivePageWriter } from "../../../../packages/server/present/report/archive-page.ts";
import { mostDrawn } from "../../../../packages/server/present/report/archive-page-worst.ts";
import { foldersKept, worstKept } from "../../../../packages/server/present/report/archive-tally.ts";
import type { HistoryEntry } from "../../../../packages/server/present/report/history.ts";
import type { WriterOptions } from "../../../../packages/server/present/report/writer-options.ts";
import { nasty, reportedNote, reportedShot, written } from "./reported.ts";

function page(
  shots: readonly ReportedShot[],
  more: Partial<WriterOptions> = {},
  errorFiles: string[] = [],
): string {
  const layout = { width: 100, colour: false };
  return written(archivePageWriter({ layout, lightest: "polish", ...more }), shots, { errorFiles });
}

const shotNamed = (file: string, ...notes: ReturnType<typeof reportedNote>[]) =>
  reportedShot({
    file,
    name: file.replace(/.*\//, ""),
    notes,
    failing: notes.some(({ tier }) => tier === "major"),
  });

const run = (at: string, shots: number, major: number): HistoryEntry => ({
  at,
  version: "1.0.0",
  shots,
  failing: major,
  errors: 0,
  notes: { broken: 0, major, minor: 4, polish: 0 },
  checks: { "hard-stop": major + 4 },
});

test("counts checks, folders and the worst shots", () => {
  const html = page([
    shotNamed("show_a/1.bvh", reportedNote(), reportedNote({ tier: "minor" })),
    shotNamed("show_a/2.bvh"),
    shotNamed("show_b/3.bvh", reportedNote({ check: "pop" }), reportedNote({ check: "pop" })),
  ]);
  expect(html).toContain("<h1>Archive of 3 shots</h1>");
  expect(html).toMatch(/<dt>failing<\/dt><dd>2</);
  expect(html).toMatch(/<dt>without notes<\/dt><dd>1</);
  expect(html).toMatch(/<code>pop<\/code>[\s\S]*?33 percent of all shots/);
  expect(html).toMatch(/<th scope="row">show_a<\/th><td class="n">2</);
  // Two major notes go before one.
  expect(html.indexOf(">3.bvh<")).toBeLessThan(html.indexOf(">1.bvh<"));
});

test("writes nothing before the end and keeps no shot", () => {
  const writer = archivePageWriter({ layout: { width: 80, colour: false }, lightest: "polish" });
  const parts = [
    writer.begin({ version: "1", shard: null }),
    writer.shot(shotNamed("a/1.bvh", reportedNote())),
  ];
  expect(parts).toEqual(["", ""]);
});

test("what is listed is bounded: worst shots, and folders by folding the deepest", () => {
  const shots = Array.from({ length: 2 * foldersKept }, (_, i) =>
    shotNamed(`show_${i % 3}/seq_${i}/shot.bvh`, reportedNote({ weight: i / 1000 })),
  );
  const html = page(shots);
  expect(html.match(/<code>|<th scope="row">shot.bvh/g)?.length).toBeLessThanOrEqual(worstKept + 5);
  expect(html).toMatch(/<th scope="row">show_0<\/th><td class="n">267</);
  expect(html).not.toContain("seq_12<");
  expect(html.match(/<li class="shot /g)?.length).toBe(mostDrawn);
  expect(html.match(/<th scope="row">shot.bvh/g)?.length).toBe(worstKept - mostDrawn);
  expect(html).toContain(`These are the ${worstKept} worst; ${shots.length - worstKept} other shots`);
});

test("draws the worst shots at their biggest note, and says what their weight is", async () => {
  const asked: string[] = [];
  const layout = { width: 100, colour: false };
  const writer = archivePageWriter({
    ...{ layout, lightest: "polish" },
    pictureOf: async ({ file }, fingerprint) => {
      asked.push(`${file} ${fingerprint}`);
      return file === "a/1.bvh" ? "<svg></svg>" : null;
    },
  });
  writer.begin({ version: "1", shard: null });
  const noteOf = (fingerprint: string) => reportedNote({ weight: 0.5, fingerprint });
  const shots = [
    shotNamed("a/1.bvh", noteOf("one")),
    shotNamed("a/2.bvh", noteOf("two"), noteOf("three")),
    shotNamed("a/3.bvh"),
  ];
  for (const shot of shots) writer.shot(shot);
  await writer.beforeEnd?.();
  const html = writer.end({ shots: 3, notes: 3, errors: 0, failures: 0, stopped: null });
  expect(asked).toEqual(["a/2.bvh two", "a/1.bvh one"]);
  expect(html).toMatch(/2\.bvh<\/h3>[\s\S]*?weight 1\.0<[\s\S]*?<figure><\/figure>/);
  expect(html).toMatch(/1\.bvh<\/h3>[\s\S]*?weight 0\.5<[\s\S]*?<figure><svg><\/svg><\/figure>/);
  expect(html).toContain("A shot&#39;s weight is the sum over its notes.");
});

test("every text is escaped", () => {
  const html = page(
    [shotNamed(`${nasty}/1.bvh`, reportedNote({ message: nasty, check: nasty, part: nasty }))],
    { sheetFor: () => `"><script>${nasty}` },
    [nasty],
  );
  const inside = html.slice(html.indexOf("</style>"));
  expect(inside).not.toContain("<script");
  expect(inside).not.toContain("<b onclick");
  expect(inside).not.toContain("<!--");
  expect(html).toContain("default-src &#39;none&#39;".replaceAll("&#39;", "'"));
});

test("leads to sheets where there are any", () => {
  const html = page([shotNamed("a/1.bvh", reportedNote()), shotNamed("a/2.bvh", reportedNote())], {
    sheetFor: ({ name }) => (name === "1.bvh" ? "sheets/1.html" : null),
  });
  expect(html).toContain('<a href="sheets/1.html">1.bvh</a>');
  expect(html).toContain("<h3>2.bvh</h3>");
});

test("draws the trend from the second run on, with this run at its end", () => {
  const past = [run("2026-01-05T08:00:00.000Z", 10, 6), run("2026-01-12T08:00:00.000Z", 10, 2)];
  const now = new Date("2026-01-19T08:00:00.000Z");
  const html = page([shotNamed("a/1.bvh", reportedNote())], { history: { past, now } });
  // 10 notes in 10 shots, then 6 in 10, then 1 in 1.
  expect(html).toContain(
    "Notes per shot over 3 runs: from 1.00 to 1.00; major and broken ones from 0.60 to 1.00",
  );
  expect(html).toContain("2026-01-19");
  expect(page([shotNamed("a/1.bvh")], { history: { past: [], now } })).toContain("from the second run on");
  expect(page([shotNamed("a/1.bvh")])).not.toContain("Trend over runs");
});

test("a run without shots is a page too, the same each time", () => {
  expect(page([])).toBe(page([]));
  expect(page([])).toContain("No shot has been judged.");
});
