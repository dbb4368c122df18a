import type { Study } from "../../packages/core/base/study.ts";
import { shotOf } from "../../packages/core/document/read.ts";
import type { CurveDocument } from "../../packages/core/document/schema.ts";
import type { Note } from "../../packages/core/faults/note.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { eachAlone } from "../../packages/core/notes/assemble.ts";
import { notesOf } from "../../packages/core/notes/found.ts";
import type { Config } from "../../packages/core/settings/config.ts";
import { type Overrides, resolveSettings } from "../../packages/core/settings/resolve.ts";
import { studyOf as studyOfShot } from "../../packages/core/settings/study.ts";

export * from "../../packages/core/faults/shared/examples/documents.ts";

/** A study of a document built in code. @throws Error where the document cannot be used */
export function studyOf(document: CurveDocument, config: Config = {}, overrides: Overrides = {}): Study {
  const { shot, problems } = shotOf(document);
  if (shot === null) throw new Error(problems.map(({ message }) => message).join("; "));
  return studyOfShot(shot, resolveSettings(registry, config, overrides));
}

/** Notes of one check on a document, also those for which another one speaks. */
export function notesOfCheck(document: CurveDocument, name: string, config: Config = {}): readonly Note[] {
  const notes = eachAlone(notesOf(studyOf(document, config, { only: [name] })));
  return notes.filter(({ check }) => check === name);
}

/** A biped whose nodes have numbers for names, and arms twice as long: nothing says whether they are wings. */
export function guessedBody({ figures: _, ...document }: CurveDocument): CurveDocument {
  const nameOf = new Map(document.nodes.map(({ id }, k) => [id, `joint_${k + 1}`]));
  const named = (id: string) => nameOf.get(id) ?? id;
  return {
    ...document,
    nodes: document.nodes.map(({ id, parent, translation = [0, 0, 0], ...node }) => {
      const longer = /^(forearm|hand)_/.test(id) ? 2 : 1;
      const [x, y, z] = translation;
      return {
        ...node,
        id: named(id),
        translation: [longer * x, y, z],
        ...(parent === undefined ? {} : { parent: named(parent) }),
      };
    }),
    curves: document.curves.map((curve) => ({ ...curve, node: named(curve.node) })),
  };
}
