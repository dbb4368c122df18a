/** What is used of the validator of the Khronos Group, which comes without types. */
declare module "gltf-validator" {
  interface Message {
    readonly code: string;
    readonly message: string;
    readonly pointer?: string;
    /** 0 an error, 1 a warning, 2 an information, 3 a hint. */
    readonly severity: number;
  }
  const validator: {
    validateBytes(
      bytes: Uint8Array,
      options?: { readonly externalResourceFunction?: (uri: string) => Promise<Uint8Array> },
    ): Promise<{ readonly issues: { readonly messages: readonly Message[] } }>;
  };
  export default validator;
}
