/** A stretch of samples in which a part goes one way, and how far, radians. */
export interface Swing {
  readonly from: number;
  readonly to: number;
  readonly angle: number;
}

/**
 * The swings of a part over some samples: each goes from one turning point to the next. A turning point is where the part
 * comes back by as much as a swing has to have; lesser ways back belong to the swing.
 * @param angleBetween angle in radians between the part's poses at two samples
 * @param least least angle of a swing, radians
 */
export function swingsIn(
  angleBetween: (from: number, to: number) => number,
  first: number,
  last: number,
  least: number,
): Swing[] {
  const swings: Swing[] = [];
  let from = first;
  let to = first;
  let angle = 0;
  for (let i = first + 1; i <= last; i++) {
    const away = angleBetween(from, i);
    if (away > angle) {
      angle = away;
      to = i;
      continue;
    }
    if (angle < least) continue;
    const back = angleBetween(to, i);
    if (back < least) continue;
    swings.push({ from, to, angle });
    from = to;
    to = i;
    angle = back;
  }
  if (angle >= least) swings.push({ from, to, angle });
  return swings;
}
