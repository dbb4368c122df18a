// @ts-check
/** A document as text, one line for a key, a node or an entry. @param {any} doc */
export function documentText(doc) {
  const one = (/** @type {any} */ x) => JSON.stringify(x);
  const list = (/** @type {any[]} */ a) => `[\n${a.map((x) => `    ${one(x)}`).join(",\n")}\n  ]`;
  const curves = (/** @type {any[]} */ a) =>
    `[\n${a
      .map((c) => {
        const { keys, ...rest } = c;
        return `    ${one(rest).slice(0, -1)}, "keys": [\n${keys.map((k) => `      ${one(k)}`).join(",\n")}\n    ] }`;
      })
      .join(",\n")}\n  ]`;
  const rows = Object.entries(doc).map(
    ([k, v]) => `  "${k}": ${k === "curves" ? curves(v) : Array.isArray(v) ? list(v) : one(v)}`,
  );
  return `{\n${rows.join(",\n")}\n}\n`;
}
