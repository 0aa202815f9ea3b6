declare module 'occt-import-js' {
  /** Starts the kernel with the options of its loader. */
  // biome-ignore lint/suspicious/noExplicitAny: the package has no types; readStep says what it uses
  export default function start(options: Readonly<Record<string, unknown>>): Promise<any>
}
