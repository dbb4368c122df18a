/*
 * What is tried on each input, and what must hold whatever it is: nothing is thrown but what is meant to be, places lie
 * in the text, reports keep their own schema, and terminals and pages get no text that is more than text.
 */

/** @param lib the program's own functions: from the sources in tests, from what is built in long runs */
export function targetsOf(lib) {
  const settings = lib.resolveSettings(lib.registry, {});
  const reading = (read) => (text) => {
    const { shot, problems } = read(text);
    holds(shot !== null || problems.length > 0, "no shot, and no reason");
    for (const { start, end, message } of problems) {
      holds(start >= 0 && start <= end && end <= text.length, `a place outside the text: ${start} to ${end}`);
      holds(
        message !== "" && !/\bundefined\b|\[object /.test(message),
        `a message that says nothing: ${message}`,
      );
    }
    return shot;
  };
  const only = (errors, run) => async (text) => {
    try {
      return await run(text);
    } catch (error) {
      if (errors.some((kind) => error instanceof kind)) return undefined;
      throw error;
    }
  };
  const readers = {
    document: reading((text) => lib.readShot(text)),
    bvh: reading((text) => lib.readBvh(text)),
    gltf: reading((text) => lib.readGltf(text)),
    csv: reading((text) => lib.readCsv(text)),
  };
  /** Inputs that are bytes, a character each, so that they are changed as texts are. */
  const ofBytes = (name, resolve) => (text) => {
    const adapter = lib.adapters.find((one) => one.name === name);
    const bytes = Buffer.from(text, "latin1");
    const file = { file: "a.csv", mostKeys: 200_000 };
    adapter.detect(bytes);
    holds(Array.isArray(adapter.animations?.(bytes) ?? []), "names of animations");
    for (const need of adapter.needs?.(bytes, file) ?? [])
      holds(typeof need === "string", "a name of a file");
    const { shot, problems, remarks = [] } = lib.readBytes(adapter, bytes, resolve, file);
    holds(shot !== null || problems.length > 0, "no shot, and no reason");
    for (const said of [...problems.map(({ message }) => message), ...remarks]) {
      holds(said !== "" && !/\bundefined\b|\[object /.test(said), `a message that says nothing: ${said}`);
    }
    return shot;
  };
  return {
    reading: {
      ...readers,
      glb: ofBytes("gltf"),
      // The text is the buffer of a sound document, or the table of nodes of a sound table.
      buffer: (text) => {
        const bytes = Buffer.from(text, "latin1");
        const beside = () => bytes;
        const [document, table] = [besideText.buffer, besideText.nodes];
        ofBytes("gltf", beside)(document);
        return ofBytes("csv", beside)(table);
      },
      config: only([SyntaxError, lib.ConfigError], async (text) =>
        lib.resolveSettings(lib.registry, await lib.readConfig(lib.registry, JSON.parse(text))),
      ),
      expression: only([lib.ConfigError], async (text) => {
        const own = { name: "own-turns", tier: "minor", node: "hips", expression: text, message: "turns" };
        return lib.resolveSettings(lib.registry, await lib.readConfig(lib.registry, { ownChecks: [own] }));
      }),
      waivers: only([lib.WaiverFileError], (text) => lib.readWaiverFile(text)),
      cache: (text) => {
        if (!lib.isStoredShot(text)) return;
        const shot = lib.shotFrom("a.curves.json", text);
        for (const format of lib.formatNames) report(format, { ...shot, failing: false });
      },
      message: only([SyntaxError], (text) => {
        const message = lib.messageFrom(JSON.parse(text));
        holds("taken" in message || message.refusal.message !== "", "neither a message nor a refusal");
      }),
    },
    wholeWay: Object.fromEntries(
      Object.entries(readers).map(([name, read]) => [
        name,
        (text) => {
          const result = lib.readTextWith(lib.readerFor(`a${endings[name]}`), text);
          if (read(text) === null) return;
          const weight = lib.weightOf(result.shot, undefined);
          // What is more work is refused before it is done; tests of budgets hold that.
          if (weight.frames * weight.nodes > 4000) return;
          const loaded = {
            file: `a${endings[name]}`,
            name: result.shot.header.shot.name ?? "a",
            text,
            lineStarts: lib.lineStartsOf(text),
            ...result,
            remarks: result.remarks ?? [],
            waivers: [],
          };
          const judged = lib.judge(loaded, settings);
          const reported = { ...judged, failing: false };
          const issues = lib.reportSchema.shape.shots.element.safeParse(reported).error?.issues ?? [];
          holds(issues.length === 0, `a report against its schema: ${JSON.stringify(issues[0])}`);
          for (const format of lib.formatNames) report(format, reported);
          const stored = JSON.stringify({ ...judged, name: null });
          holds(lib.isStoredShot(stored), "a result that the cache would not take for one");
        },
      ]),
    ),
  };

  function report(format, shot) {
    const writer = lib.writerFor(
      format,
      { reports: {}, origins: new Map() },
      {
        layout: { width: 100, colour: false },
        lightest: "polish",
      },
    );
    const text =
      writer.begin({ version: "0", shard: null }) +
      writer.shot(shot) +
      writer.end({ shots: 1, notes: shot.notes.length, errors: 0, failures: 0, stopped: null });
    if (format === "text") holds(!unsafe.test(text), "a text that is more than text on a terminal");
    if (format === "html" || format === "junit") holds(!control.test(text), "control characters in markup");
    if (format === "json" || format === "sarif") JSON.parse(text);
  }
}

/** Files that name one beside them. */
const besideText = {
  buffer: JSON.stringify({
    asset: { version: "2.0" },
    nodes: [{ name: "a" }],
    animations: [
      {
        channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
        samplers: [{ input: 0, output: 1, interpolation: "CUBICSPLINE" }],
      },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count: 2, type: "SCALAR" },
      {
        ...{ componentType: 5126, count: 6, type: "VEC3" },
        sparse: {
          count: 2,
          indices: { bufferView: 1, componentType: 5121 },
          values: { bufferView: 2 },
        },
      },
    ],
    bufferViews: [
      { buffer: 0, byteLength: 8 },
      { buffer: 0, byteOffset: 8, byteLength: 2 },
      { buffer: 0, byteOffset: 12, byteLength: 24 },
    ],
    buffers: [{ byteLength: 36, uri: "a.bin" }],
  }),
  nodes: "frame@24,node,channel,value\n1,a,rotation.x,2\n2,a,rotation.x,4\n",
};

const endings = { document: ".curves.json", bvh: ".bvh", gltf: ".gltf", csv: ".csv" };

/** Control characters but line ends, and marks that turn the direction of text (Unicode Standard Annex 9). */
const unsafe = /(?!\n)\p{Cc}|[\u2028\u2029\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/u;
const control = /(?![\n\t])\p{Cc}/u;

function holds(condition, what) {
  if (!condition) throw new Error(what);
}
