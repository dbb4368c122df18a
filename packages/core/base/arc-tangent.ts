/**
 * Coefficients of the polynomial by which fdlibm's `s_atan.c` (Sun Microsystems, freely distributable) gives the arc
 * tangent below 7/16 to within a unit in the last place. Engines whose arc tangent is fdlibm's give the same bits.
 */
const a0 = 0.3333333333333293;
const a1 = -0.19999999999876483;
const a2 = 0.14285714272503466;
const a3 = -0.11111110405462356;
const a4 = 0.09090887133436507;
const a5 = -0.0769187620504483;
const a6 = 0.06661073137387531;
const a7 = -0.058335701337905735;
const a8 = 0.049768779946159324;
const a9 = -0.036531572744216916;
const a10 = 0.016285820115365782;

/**
 * Math.atan2(y, x) of two numbers that are not negative. `Math.atan2` leaves compiled code, which costs several times
 * what the few products of a small angle do: turns from frame to frame are small.
 */
export function arcTangent(y: number, x: number): number {
  const t = y / x;
  if (!(t < 0.4375)) return Math.atan2(y, x);
  const z = t * t;
  const w = z * z;
  const even = z * (a0 + w * (a2 + w * (a4 + w * (a6 + w * (a8 + w * a10)))));
  const odd = w * (a1 + w * (a3 + w * (a5 + w * (a7 + w * a9))));
  return t - t * (even + odd);
}
