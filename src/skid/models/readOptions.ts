/** What is done, in plain words, and how much of it: 0 … 1, or null where nothing can tell. */
export type Tell = (stage: string, done: number | null) => void

export interface ReadOptions {
  /**
   * The STEP kernel's WebAssembly, asked for only when a STEP file is read: a browser fetches it from the app's own
   * files, Node reads it from the package.
   */
  readonly stepKernel: () => Promise<Uint8Array<ArrayBuffer>>
}
