/** The minimum-jerk move of Flash & Hogan 1985: 10τ³ − 15τ⁴ + 6τ⁵, and its speed. */

/** Share of the travel done at the share `t` (0 to 1) of the move's time. */
export function minimumJerkPosition(t: number): number {
  return t <= 0 ? 0 : t >= 1 ? 1 : t * t * t * (10 + t * (6 * t - 15));
}

/** Speed at `t`, in units of travel over duration; its peak is 1.875 at one half. */
export function minimumJerkSpeed(t: number): number {
  return t <= 0 || t >= 1 ? 0 : 30 * t * t * (1 - t) * (1 - t);
}
