/** What the program uses of WebAssembly by itself: Node has it, and its types come with those of browsers only. */
declare namespace WebAssembly {
  class Module {
    constructor(binary: Uint8Array);
  }
  class Memory {
    /** @param size in pages of 64 KiB */
    constructor(size: { readonly initial: number });
    readonly buffer: ArrayBuffer;
  }
  class Instance {
    constructor(module: Module, imports: Readonly<Record<string, Readonly<Record<string, Memory>>>>);
    readonly exports: Readonly<Record<string, unknown>>;
  }
}
