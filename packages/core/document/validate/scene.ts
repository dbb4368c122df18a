import { cornersOf, outlineFault } from "../outline.ts";
import { quoted } from "../scan/cursor.ts";
import type { DocumentHeader, LimbSpec, PropSpec, SurfaceSpec } from "../schema.ts";
import type { Report } from "./header.ts";

/** Reports surfaces, limbs, props, surroundings and sounds that cannot be as they are written. */
export function reportScene(header: DocumentHeader, report: Report): void {
  header.surfaces?.forEach((surface, index) => {
    reportSurface(surface, `surfaces/${index}`, report);
  });
  header.figures?.forEach(({ limbs }, index) => {
    limbs?.forEach((limb, n) => {
      reportLimb(limb, `figures/${index}/limbs/${n}`, report);
    });
  });
  reportProps(header.props ?? [], report);
  header.surroundings?.forEach(({ medium, density }, index) => {
    if (medium !== undefined || density !== undefined) return;
    const message =
      'This does not say what the medium is; add "medium": "water", or a density. It is not used.';
    report("missing-property", message, `surroundings/${index}`);
  });
  header.sounds?.forEach(({ file }, index) => {
    if (!/^data:/i.test(file)) return;
    const message = "A sound stands in a file of its own; write the path of the file. This one is not used.";
    report("embedded-sound", message, `sounds/${index}/file`);
  });
}

function reportSurface({ id, normal, edges }: SurfaceSpec, path: string, report: Report): void {
  if (normal?.every((number) => number === 0)) {
    const message = `The normal of ${quoted(id)} has no length; write where it faces, such as [0, 1, 0]. The surface is not used.`;
    report("zero-normal", message, `${path}/normal`);
  }
  const fault = edges === undefined ? null : outlineFault(cornersOf(edges));
  if (fault === null) return;
  const what =
    fault === "empty"
      ? "enclose nothing; write two opposite corners, or three or more around"
      : "cross or touch themselves; write the corners in their order around, each once";
  const message = `The edges of ${quoted(id)} ${what}. They are not used.`;
  report(`${fault}-edges`, message, `${path}/edges`);
}

function reportLimb({ id, nodes, sole }: LimbSpec, path: string, report: Report): void {
  nodes.forEach((node, index) => {
    if (nodes.indexOf(node) === index) return;
    const message = `The limb ${quoted(id)} already has the node ${quoted(node)}; take one of the two out. The first one counts.`;
    report("repeated-node", message, `${path}/nodes/${index}`);
  });
  if (sole === undefined || (sole.heel ?? sole.ball ?? sole.toe) !== undefined) return;
  const message = 'This sole has no point; add "heel", "ball" or "toe". It is not used.';
  report("missing-property", message, `${path}/sole`);
}

function reportProps(props: readonly PropSpec[], report: Report): void {
  const seen = new Set<string>();
  props.forEach(({ node, heldBy }, index) => {
    if (seen.has(node)) {
      const message = `The prop ${quoted(node)} is given twice; make one of the two. The first one counts.`;
      report("duplicate-prop", message, `props/${index}/node`);
    }
    seen.add(node);
    heldBy?.forEach((hold, n) => {
      if (hold.node !== node) return;
      const message = `${quoted(node)} cannot hold itself; write the node that holds it. This is not used.`;
      report("holds-itself", message, `props/${index}/heldBy/${n}/node`);
    });
  });
}
