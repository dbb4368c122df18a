/** A top of a series of heights: a rise, and a fall behind it. Times are indices with fractions. */
export interface Top {
  /** The highest sample. */
  readonly at: number;
  /** The smaller one of rise and fall; quarters are those of it, below the top. */
  readonly height: number;
  /** Between these it is in the top quarter. */
  readonly upperFrom: number;
  readonly upperTo: number;
  /** Between these it is over the lowest quarter. */
  readonly start: number;
  readonly end: number;
  /** Samples in the top quarter, and in the half below it, on both sides together. */
  readonly upper: number;
  readonly middle: number;
}

/** What wanders less than this share of the height that is asked for turns no rise into a fall. */
const wander = 0.1;

/** The tops of a series with a rise and a fall of at least `least`, in order. */
export function topsOf(heights: Float64Array, least: number): Top[] {
  const tops: Top[] = [];
  const slack = wander * least;
  let low = 0;
  let high = 0;
  let rises = false;
  for (let i = 1; i < heights.length; i++) {
    if (heights[i] > heights[high]) high = i;
    if (heights[i] < heights[low]) low = i;
    if (!rises && heights[i] - heights[low] > slack) {
      rises = true;
      high = i;
    } else if (rises && heights[high] - heights[i] > slack) {
      const rise = heights[high] - heights[low];
      let bottom = i;
      for (let k = i; k < heights.length && heights[k] < heights[bottom] + slack; k++)
        if (heights[k] < heights[bottom]) bottom = k;
      const height = Math.min(rise, heights[high] - heights[bottom]);
      const top = height < least ? null : topAt(heights, high, height);
      if (top !== null) tops.push(top);
      rises = false;
      low = i;
      high = i;
    }
  }
  return tops;
}

/** How a series turns at a sample, over a height below it; null where it does not come down so far on both sides. */
export function topAt(heights: Float64Array, at: number, height: number): Top | null {
  const crossing = (share: number, sense: 1 | -1): number => {
    const level = heights[at] - share * height;
    for (let i = at; i + sense >= 0 && i + sense < heights.length; i += sense) {
      if (heights[i + sense] > level) continue;
      return i + (sense * (heights[i] - level)) / (heights[i] - heights[i + sense]);
    }
    return Number.NaN;
  };
  const upperFrom = crossing(0.25, -1);
  const upperTo = crossing(0.25, 1);
  const start = crossing(0.75, -1);
  const end = crossing(0.75, 1);
  if (Number.isNaN(start + end + upperFrom + upperTo)) return null;
  const upper = upperTo - upperFrom;
  return { at, height, upperFrom, upperTo, start, end, upper, middle: end - start - upper };
}
