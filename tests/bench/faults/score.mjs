/** Holds the notes on a motion with a fault against what is known of the fault. */

/**
 * What is known of a fault that was put in.
 * @typedef {object} Truth
 * @property {number} from first frame on which it shows @property {number} to last one
 * @property {Set<string>} nodes where it may be said to show: what was changed, and what hangs on it
 * @property {boolean} [timeless] whether its first and last frame say nothing
 * @property {{ nodes: Set<string>, channels?: RegExp, from: number, to: number }} keys the keys that were changed
 */

/** How many frames a note may lie beside a fault and still mean it. */
const beside = 2;

/**
 * @param {object} check the check that has to find it @param {readonly object[]} before notes on the clean motion
 * @param {readonly object[]} after notes on the motion with the fault @param {Truth} truth
 */
export function scored({ name: check, yieldsTo = [] }, before, after, truth) {
  const fresh = after.filter((note) => !before.some((old) => sameNote(old, note)));
  const own = fresh.filter((note) => note.check === check && means(note, truth));
  if (own.length === 0) {
    const others = fresh.filter(
      (note) => note.check !== check && (means(note, truth) || namesKey(note, truth)),
    );
    const other = others.find((note) => yieldsTo.includes(note.check)) ?? others[0];
    return { found: false, saidBy: other?.check ?? null, saidBetter: yieldsTo.includes(other?.check) };
  }
  const best = own.reduce((a, b) => (frameError(a, truth) <= frameError(b, truth) ? a : b));
  const speaks = own.find((note) => namesKey(note, truth)) ?? best;
  return {
    found: true,
    saidBy: null,
    tier: best.tier,
    frameError: truth.timeless ? null : frameError(best, truth),
    namesKey: namesKey(speaks, truth),
    note: best,
  };
}

/** Whether a clean motion already has a note where a fault would go, so that nothing could be told there. */
export function isTaken(check, before, truth) {
  return before.some((note) => note.check === check && means(note, truth));
}

function means(note, truth) {
  const [from, to] = note.frames;
  if (from > truth.to + beside || to < truth.from - beside) return false;
  return (
    truth.nodes.has(note.node) ||
    note.seenAt.some((node) => truth.nodes.has(node)) ||
    (note.keys.length > 0 && truth.keys.nodes.has(note.keys[0].node))
  );
}

function namesKey(note, { keys }) {
  const first = note.keys[0];
  if (first === undefined || !keys.nodes.has(first.node)) return false;
  if (keys.channels !== undefined && !keys.channels.test(first.channel)) return false;
  return first.frame >= keys.from - 1e-6 && first.frame <= keys.to + 1e-6;
}

/** Mean distance of the note's first and last frame from the fault's. */
function frameError({ frames: [from, to] }, truth) {
  return (Math.abs(from - truth.from) + Math.abs(to - truth.to)) / 2;
}

function sameNote(a, b) {
  return (
    a.check === b.check && a.node === b.node && a.frames[0] === b.frames[0] && a.frames[1] === b.frames[1]
  );
}
