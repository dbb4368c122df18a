import { inDegrees, type Shot } from "@keyside/core";
import type { GltfDocument } from "./document.ts";

type CameraSpec = NonNullable<Shot["header"]["cameras"]>[number];

/** Cameras of a document, perspective and orthographic, each called like the node that carries it. */
export function camerasOf(document: GltfDocument, nodes: Shot["header"]["nodes"]): CameraSpec[] {
  return (document.nodes ?? []).flatMap((node, i): CameraSpec[] => {
    const camera = node.camera === undefined ? undefined : document.cameras?.[node.camera];
    const who = { id: nodes[i].id, node: nodes[i].id };
    const { perspective, orthographic } = camera ?? {};
    if (perspective !== undefined && perspective.yfov > 0 && perspective.yfov < Math.PI) {
      const { yfov, aspectRatio, znear, zfar } = perspective;
      const lens = { verticalFieldOfView: inDegrees(yfov) };
      return [{ ...who, ...lens, ...aspect(aspectRatio), ...depth(znear, zfar) }];
    }
    if (orthographic !== undefined) {
      const { xmag = 0, ymag = 0, znear, zfar } = orthographic;
      // Half of the picture's height (specification 5.14); a mirrored picture is as high.
      const height = 2 * Math.abs(ymag);
      if (!isExtent(height)) return [];
      return [{ ...who, verticalExtent: height, ...aspect(Math.abs(xmag / ymag)), ...depth(znear, zfar) }];
    }
    return [];
  });
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
