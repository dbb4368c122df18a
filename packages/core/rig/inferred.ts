import { type Study, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import { mayBeFigure } from "../document/validate/references.ts";
import { type FoundFigure, foundFiguresOf } from "./figures.ts";
import { assumedSize, assumedStature, scaleOf, statureOf } from "./stature.ts";

/**
 * One sentence for each thing about the figures and the units that the document leaves open and that was inferred.
 * @returns sentences; empty where the document says all
 */
export const inferredOf = shotMeasure<readonly string[]>(
  "inferred",
  (study) => {
    const { found, without } = foundFiguresOf(study);
    return [
      ...found.flatMap(({ figure, counts }) => partsSentence(figure.id, figure.kind, counts)),
      ...without.map((id) => `figure "${id}": no node of the document belongs to it`),
      ...unknownFigures(study),
      ...scaleSentence(study),
    ];
  },
  (a, b) => a.length === b.length && a.every((sentence, i) => sentence === b[i]),
);

/** Names of figures in a document that no figure has; one that is like nothing at all was told as it was read. */
function unknownFigures(study: Study): string[] {
  const { gazes = [], propulsors = [], nodes } = headerOf(study);
  const ids = foundFiguresOf(study).found.map(({ figure }) => figure.id);
  const asked = new Set([...gazes, ...propulsors].map(({ figure }) => figure));
  const there = ids.length === 0 ? "there are none" : `there is ${ids.map((id) => `"${id}"`).join(", ")}`;
  return [...asked]
    .filter((id) => !ids.includes(id) && mayBeFigure(nodes, id))
    .map((id) => `no figure is called "${id}": ${there}`);
}

function partsSentence(id: string, kind: string, counts: FoundFigure["counts"]): string[] {
  const { declared, names, shape } = counts;
  if (kind === "other" && declared === 0 && names === 0) {
    return [`figure "${id}": no body found in its nodes, taken as one piece`];
  }
  if (names + shape === 0) return [];
  const some = (count: number) => `${count} ${count === 1 ? "part" : "parts"}`;
  const found: string[] = [];
  if (names > 0) found.push(`${some(names)} inferred from names`);
  if (shape > 0) found.push(`${some(shape)} inferred from the shape of the rest pose`);
  if (declared > 0) found.unshift(`${some(declared)} declared`);
  return [`figure "${id}": ${found.join(", ")}`];
}

function scaleSentence(study: Study): string[] {
  const { metresPerUnit, from, figure } = scaleOf(study);
  if (from === "declared" || headerOf(study).nodes.length === 0) return [];
  const unit = `1 unit = ${Number(metresPerUnit.toPrecision(4))} m`;
  if (from === "nothing") return [`${unit}: assumed, for want of a figure to measure`];
  const id = foundFiguresOf(study).found[figure].figure.id;
  const isHuman = foundFiguresOf(study).found[figure].figure.kind === "human";
  const height = `${Number(statureOf(study, figure).toFixed(2))} m`;
  switch (from) {
    case "declared stature":
      return [`${unit}: inferred from the declared stature of figure "${id}"`];
    case "convention":
      return [`${unit}: inferred from the rest pose of figure "${id}", which is then ${height} tall`];
    case "common unit":
      return [`${unit}: assumed, as figure "${id}" is then ${height} ${isHuman ? "tall" : "in size"}`];
    case "assumed stature":
      return [`${unit}: figure "${id}" is assumed to be ${assumedStature} m tall`];
    case "assumed size":
      return [`${unit}: figure "${id}" is assumed to measure ${assumedSize} m`];
  }
}
