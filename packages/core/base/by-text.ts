/**
 * A function of a text that remembers what it gave. Of shots that are looked at one after another most nodes have the
 * same names.
 * @param compute gives the same for the same text, and nothing that is changed later
 * @param most texts that are remembered; where there are more, all are forgotten
 */
export function byText<V>(compute: (text: string) => V, most = 4096): (text: string) => V {
  const known = new Map<string, V>();
  return (text) => {
    let value = known.get(text);
    if (value === undefined) {
      // A copy: a piece of a document would keep all of its text.
      const own = ` ${text}`.slice(1);
      value = compute(own);
      if (known.size >= most) known.clear();
      known.set(own, value);
    }
    return value;
  };
}
