/** What is read of a glTF 2.0 document; all of it may be missing or wrong in a file. */
export interface GltfDocument {
  readonly asset?: { readonly version?: string; readonly extras?: unknown };
  readonly nodes?: readonly GltfNode[];
  readonly animations?: readonly GltfAnimation[];
  readonly accessors?: readonly GltfAccessor[];
  readonly bufferViews?: readonly {
    readonly buffer: number;
    readonly byteOffset?: number;
    readonly byteLength: number;
    readonly byteStride?: number;
    readonly extensions?: Readonly<Record<string, unknown>>;
  }[];
  readonly buffers?: readonly { readonly uri?: string; readonly byteLength: number }[];
  readonly cameras?: readonly {
    readonly name?: string;
    readonly perspective?: {
      readonly yfov: number;
      readonly aspectRatio?: number;
      readonly znear?: number;
      readonly zfar?: number;
    };
    readonly orthographic?: {
      readonly xmag?: number;
      readonly ymag?: number;
      readonly znear?: number;
      readonly zfar?: number;
    };
  }[];
  readonly skins?: readonly { readonly name?: string; readonly joints?: readonly unknown[] }[];
}

export interface GltfNode {
  readonly name?: string;
  readonly children?: readonly number[];
  readonly translation?: readonly number[];
  readonly rotation?: readonly number[];
  readonly scale?: readonly number[];
  readonly matrix?: readonly number[];
  readonly camera?: number;
}

/** What a channel drives. */
export interface GltfTarget {
  readonly node?: number;
  readonly path: string;
  readonly extensions?: Readonly<Record<string, unknown>>;
}

export interface GltfAnimation {
  readonly name?: string;
  readonly channels?: readonly {
    readonly sampler: number;
    readonly target: GltfTarget;
  }[];
  readonly samplers?: readonly {
    readonly input: number;
    readonly output: number;
    readonly interpolation?: string;
  }[];
}

export interface GltfAccessor {
  readonly bufferView?: number;
  readonly byteOffset?: number;
  readonly componentType: number;
  readonly normalized?: boolean;
  readonly count: number;
  readonly type: string;
  readonly sparse?: GltfSparse;
}

/** Numbers that stand in for those of an accessor, here and there. */
export interface GltfSparse {
  readonly count?: number;
  readonly indices?: {
    readonly bufferView?: number;
    readonly byteOffset?: number;
    readonly componentType?: number;
  };
  readonly values?: { readonly bufferView?: number; readonly byteOffset?: number };
}
