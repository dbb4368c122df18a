import type { Finding } from "../../check.ts";

/**
 * A finding of one way of moving, with how far what turns is seen to reach, metres; left out by checks of paths alone.
 */
export interface PacedFinding extends Finding {
  readonly seen?: number;
  /** Whether it was found in the frame of what carries the part. */
  readonly isCarried?: boolean;
}

/**
 * A child shows a fault of its own only if it shows this many times what its parent shows of it: a third more than it
 * is carried along with (our choice).
 */
const moreThanParent = 1.3;

/**
 * Findings of a node without those that its parent shows just as much over the same frames, and without the smaller
 * one of two that say the same of its travel and of its turning.
 * @param parents gives the parent's findings; asked only if there is anything to compare
 */
export function ownFindings<F extends PacedFinding>(
  own: readonly F[],
  parent: number,
  parents: (parent: number) => readonly F[],
): readonly F[] {
  if (own.length === 0) return own;
  const above = parent < 0 ? [] : parents(parent);
  return own.filter(
    (finding, index) =>
      !above.some((other) => meet(finding, other) && showsNoMore(finding, other)) &&
      !own.some(
        (other, k) =>
          k !== index &&
          meet(finding, other) &&
          (other.size > finding.size || (other.size === finding.size && k < index)),
      ),
  );
}

function meet(a: PacedFinding, b: PacedFinding): boolean {
  return a.from <= b.to + 1 && b.from <= a.to + 1;
}

/**
 * Two turns are compared as angles, since every node below turns alike, however far it reaches; but for a turn against
 * the parent, which is no share of the parent's.
 */
function showsNoMore(finding: PacedFinding, parents: PacedFinding): boolean {
  const turns =
    finding.fault?.kind === "orientation" && parents.fault?.kind === "orientation" && !finding.isCarried;
  const shown = ({ size, seen = 1 }: PacedFinding) => (turns ? size / seen : size);
  return shown(finding) <= moreThanParent * shown(parents);
}
