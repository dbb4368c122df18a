/** The program's own functions, as they are built. */
export async function builtLibrary() {
  const server = new URL("../../packages/server/dist/", import.meta.url);
  const modules = await Promise.all([
    import("@keyside/core"),
    import("@keyside/core/internal"),
    import("@keyside/adapters"),
    ...[
      "judge/shots/readers.js",
      "judge/shots/judge.js",
      "judge/shots/weigh.js",
      "judge/archive/judges.js",
      "judge/archive/stored-shot.js",
      "present/report/formats.js",
      "serve/transport/reader.js",
    ].map((path) => import(new URL(path, server).href)),
  ]);
  return Object.assign({}, ...modules);
}
