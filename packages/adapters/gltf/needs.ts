import { jsonOf } from "./bytes.ts";

/**
 * Files that a glTF file names as buffers of the data that is read of it: what its animations are made of. Those of
 * meshes and pictures alone are none of them.
 */
export function buffersBeside(bytes: Uint8Array): string[] {
  try {
    return urisIn(JSON.parse(jsonOf(bytes)));
  } catch {
    // Whatever is wrong with it, the reader tells.
    return [];
  }
}

type Loose = Readonly<Record<string, unknown>>;

function urisIn(data: unknown): string[] {
  const document = data as Loose;
  const entries = (name: string, holder: Loose = document) => {
    const list = holder?.[name];
    return Array.isArray(list) ? (list as (Loose | null | undefined)[]) : [];
  };
  const entry = (name: string, index: unknown) =>
    typeof index === "number" ? (entries(name)[index] ?? undefined) : undefined;
  const views = new Set<unknown>();
  for (const animation of entries("animations")) {
    for (const sampler of entries("samplers", animation ?? {})) {
      for (const index of [sampler?.["input"], sampler?.["output"]]) {
        const accessor = entry("accessors", index);
        const sparse = accessor?.["sparse"] as { indices?: Loose; values?: Loose } | undefined;
        views.add(accessor?.["bufferView"]).add(sparse?.indices?.["bufferView"]);
        views.add(sparse?.values?.["bufferView"]);
      }
    }
  }
  const uris = new Set<string>();
  for (const index of views) {
    const uri = entry("buffers", entry("bufferViews", index)?.["buffer"])?.["uri"];
    if (typeof uri === "string" && !/^data:/i.test(uri)) uris.add(uri);
  }
  return [...uris];
}
