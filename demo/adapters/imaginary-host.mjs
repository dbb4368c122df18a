// @ts-check
/**
 * A tool that is not there: parts with dials that are keyed by the tick, an undo of its own, and a main loop. It has
 * words and units of its own, as real tools do: ticks from 0, turns in radians, and three events: "placed" when a key
 * has a new value, "shifted" when it stands at another tick, "lifted" when it is taken out.
 */
export class Stage {
  /** Keys by part and dial: `lamp/slide x`. @type {Map<string, Map<number, number>>} */
  dials = new Map();
  /** @type {((event: string, part: string, dial: string, tick: number, value?: number) => void)[]} */
  listeners = [];
  /** @type {(() => void)[]} */
  eachRound = [];
  /** @type {string[]} */
  lines = [];
  /** @type {(() => void)[]} */
  #undo = [];

  /** @param {string} part @param {string} dial @param {number} tick @param {number} value */
  place(part, dial, tick, value) {
    const old = this.#keys(part, dial).get(tick);
    this.#undo.push(() => {
      if (old === undefined) this.#lift(part, dial, tick);
      else this.#place(part, dial, tick, old);
    });
    this.#place(part, dial, tick, value);
  }

  /** @param {string} part @param {string} dial @param {number} tick @param {number} to */
  shift(part, dial, tick, to) {
    this.#undo.push(() => this.#shift(part, dial, to, tick));
    this.#shift(part, dial, tick, to);
  }

  /** @param {string} part @param {string} dial @param {number} tick */
  lift(part, dial, tick) {
    const old = this.#keys(part, dial).get(tick) ?? 0;
    this.#undo.push(() => this.#place(part, dial, tick, old));
    this.#lift(part, dial, tick);
  }

  /** Does the opposite of what was done last, and tells it by the same events. */
  undo() {
    this.#undo.pop()?.();
  }

  /** One round of the main loop, of which a real tool has many in a second. */
  round() {
    for (const task of this.eachRound) task();
  }

  /** @param {string[]} lines */
  show(lines) {
    this.lines = lines;
  }

  /** @param {string} part @param {string} dial @param {number} tick @param {number} value */
  #place(part, dial, tick, value) {
    this.#keys(part, dial).set(tick, value);
    this.#tell("placed", part, dial, tick, value);
  }

  /** @param {string} part @param {string} dial @param {number} tick @param {number} to */
  #shift(part, dial, tick, to) {
    const keys = this.#keys(part, dial);
    keys.set(to, keys.get(tick) ?? 0);
    keys.delete(tick);
    this.#tell("shifted", part, dial, tick, to);
  }

  /** @param {string} part @param {string} dial @param {number} tick */
  #lift(part, dial, tick) {
    this.#keys(part, dial).delete(tick);
    this.#tell("lifted", part, dial, tick);
  }

  /** @param {string} part @param {string} dial */
  #keys(part, dial) {
    const name = `${part}/${dial}`;
    const keys = this.dials.get(name) ?? new Map();
    this.dials.set(name, keys);
    return keys;
  }

  /** @param {string} event @param {string} part @param {string} dial @param {number} tick @param {number} [value] */
  #tell(event, part, dial, tick, value) {
    for (const listener of this.listeners) listener(event, part, dial, tick, value);
  }
}
