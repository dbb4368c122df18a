import { basename } from "node:path";
import { type Followed, followVersions, nodeOfRemark, type ReportedNote } from "@keyside/core";
import type { ShotHistory } from "@keyside/core/internal";
import { version } from "../../base/version.ts";
import { groupsOf } from "../../judge/shots/headings.ts";
import type { JudgedVersion, VersionNote } from "../../judge/shots/judged-version.ts";

type Row = ShotHistory["rows"][number];

/** What became of notes, remarks and target paths over versions of a shot, as other systems read it. */
export function shotHistoryOf(versions: readonly JudgedVersion[]): ShotHistory {
  const followed = followVersions(
    versions.map(({ loaded, study, notes, waived }) => ({
      ...{ shot: loaded.shot, study, notes, waived },
      file: basename(loaded.file),
      review: loaded.review?.review ?? null,
    })),
  );
  return {
    tool: { name: "keyside", version },
    shot: versions.at(-1)?.report.name ?? "",
    versions: versions.map(({ loaded, report }) => ({
      file: report.file,
      revision: loaded.shot.header.shot.revision ?? null,
      frameRate: report.frameRate,
      range: report.range,
    })),
    rows: followed.map((one) => rowOf(one, versions)).sort(byWeight),
    problems: versions.flatMap(({ report }) => report.review?.problems ?? []),
  };
}

function rowOf(one: Followed<VersionNote>, versions: readonly JudgedVersion[]): Row {
  const { kind, note, remark, stroke, opened, closed } = one;
  const { study } = versions[opened] as JudgedVersion;
  const partOf = groupsOf(study);
  const part = (node: string | null, figure: string | null) => partOf({ node, figure, tier: "minor" });
  const cells = one.cells.map((cell): Row["cells"][number] => {
    if (cell === null) return null;
    const { state, fit } = cell;
    const measured = cell.note?.measured ?? null;
    return {
      state,
      frames: cell.note?.frames == null ? null : [cell.note.frames[0], cell.note.frames[1]],
      measured: measured === null ? null : { ...measured },
      mean: fit?.mean ?? null,
      largest: fit?.largest ?? null,
      late: fit === undefined ? null : [fit.late[0], fit.late[1]],
    };
  });
  const about = { kind, opened, closed, cells };
  if (note !== undefined) {
    const { reported } = note;
    return { ...about, id: note.fingerprint, ...titleOf(reported), by: null, text: reported.message };
  }
  const node =
    kind === "target"
      ? (stroke?.target?.node ?? null)
      : remark === undefined
        ? null
        : nodeOfRemark(study, remark);
  return {
    ...about,
    id: remark?.id ?? "",
    title: kind === "target" ? "target path" : remark?.weight === "keep" ? "praise" : "remark",
    part: part(node, remark?.figure ?? null),
    weight: remark?.weight ?? "should",
    frames: spanOf((kind === "target" ? stroke?.target?.frames : remark?.frames) ?? null),
    by: remark?.by ?? null,
    text: remark?.text ?? "",
  };
}

function titleOf({
  check,
  part,
  tier,
  frames,
}: ReportedNote): Pick<Row, "title" | "part" | "weight" | "frames"> {
  return { title: check, part, weight: tier, frames: spanOf(frames) };
}

function spanOf(frames: readonly [number, number] | null): [number, number] | null {
  return frames === null ? null : [frames[0], frames[1]];
}

const weights: readonly string[] = ["broken", "must", "major", "should", "minor", "could", "polish", "keep"];

/** The heaviest first; a target path behind the remark that it belongs to. */
function byWeight(a: Row, b: Row): number {
  return weights.indexOf(a.weight) - weights.indexOf(b.weight);
}

/** What a cell says, in a word or a number: "new", "still", "done", "4.2 cm off". */
export function cellWords(cell: Row["cells"][number], lengthText: (metres: number) => string): string {
  if (cell === null) return "";
  if (cell.mean === null) return cell.state;
  return cell.state === "met" ? `met (${lengthText(cell.mean)})` : `${lengthText(cell.mean)} off`;
}

/** The version's name above its column: "v2" for revision 2, else the file without its ending. */
export function versionName({ revision, file }: ShotHistory["versions"][number]): string {
  return revision === null ? basename(file).replace(/\..*$/, "") : `v${revision}`;
}

/** "opened in v1, closed in v3"; "open since v2". */
export function spanWords({ opened, closed, weight }: Row, { versions }: ShotHistory): string {
  const name = (index: number) => {
    const one = versions[index];
    return one === undefined ? "" : versionName(one);
  };
  if (weight === "keep") return `since ${name(opened)}`;
  return closed === null ? `open since ${name(opened)}` : `${name(opened)} to ${name(closed)}`;
}
