import { inDegrees, type Shot } from "@keyside/core";
import type { GltfDocument, GltfTarget } from "./document.ts";

type CameraSpec = NonNullable<Shot["header"]["cameras"]>[number];
export type Zoom = NonNullable<CameraSpec["zoom"]>;

/**
 * Cameras of a document, perspective and orthographic, each called like the node that carries it.
 * @param zooms keys of what a camera sees, by its index
 */
export function camerasOf(
  document: GltfDocument,
  nodes: Shot["header"]["nodes"],
  zooms: ReadonlyMap<number, Zoom>,
): CameraSpec[] {
  return (document.nodes ?? []).flatMap((node, i): CameraSpec[] => {
    const camera = node.camera === undefined ? undefined : document.cameras?.[node.camera];
    const who = { id: nodes[i].id, node: nodes[i].id };
    const { perspective, orthographic } = camera ?? {};
    const keys = node.camera === undefined ? undefined : zooms.get(node.camera);
    const zoom = keys === undefined ? {} : { zoom: keys };
    if (perspective !== undefined && perspective.yfov > 0 && perspective.yfov < Math.PI) {
      const { yfov, aspectRatio, znear, zfar } = perspective;
      const lens = { verticalFieldOfView: inDegrees(yfov) };
      return [{ ...who, ...lens, ...aspect(aspectRatio), ...depth(znear, zfar), ...zoom }];
    }
    if (orthographic !== undefined) {
      const { xmag = 0, ymag = 0, znear, zfar } = orthographic;
      // Half of the picture's height (specification 5.14); a mirrored picture is as high.
      const height = 2 * Math.abs(ymag);
      if (!isExtent(height)) return [];
      return [
        { ...who, verticalExtent: height, ...aspect(Math.abs(xmag / ymag)), ...depth(znear, zfar), ...zoom },
      ];
    }
    return [];
  });
}

/** Whose property a pointer of `KHR_animation_pointer` drives, where it is what a camera sees: its index and which. */
export function zoomTarget({ path, extensions }: GltfTarget): { camera: number; isAngle: boolean } | null {
  if (path !== "pointer") return null;
  const { KHR_animation_pointer: given } = (extensions ?? {}) as Record<string, unknown>;
  const { pointer } = (given ?? {}) as { pointer?: unknown };
  const found =
    typeof pointer === "string"
      ? /^\/cameras\/(\d{1,9})\/(perspective\/yfov|orthographic\/ymag)$/.exec(pointer)
      : null;
  return found === null ? null : { camera: Number(found[1]), isAngle: found[2] === "perspective/yfov" };
}

function aspect(ratio: number | undefined): Pick<CameraSpec, "aspect"> {
  return ratio !== undefined && isExtent(ratio) ? { aspect: ratio } : {};
}

function depth(near: number | undefined, far: number | undefined): Pick<CameraSpec, "near" | "far"> {
  return {
    ...(near !== undefined && near >= 0 && near < 1e12 ? { near } : {}),
    ...(far !== undefined && isExtent(far) ? { far } : {}),
  };
}

function isExtent(value: number): boolean {
  return value >= 1e-9 && value < 1e12;
}
