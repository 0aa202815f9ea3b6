/** Where model files are looked for; a test hands in its own. */
export interface ModelFolder {
  /** The files of a folder, not of those below it. @throws Error when it cannot be looked into. */
  readonly list: (folder: string) => Promise<readonly { readonly name: string; readonly bytes: number }[]>
  /** @throws Error when it cannot be read. */
  readonly bytes: (path: string) => Promise<Uint8Array<ArrayBuffer>>
}

/** What a file must not be written onto. */
export interface Writing {
  /** Files that are read: never onto one of them. */
  readonly inputs: readonly string[]
  /** Whether another file that is there already may be replaced. */
  readonly overwrite: boolean
}

/** Where the command line reads and writes; a test hands in its own. */
export interface CommandIo {
  /** The file's text. @throws Error when it cannot be read. */
  readonly read: (path: string) => Promise<string>
  /** Writes the file whole or not at all. @throws BadInput when it may not be written, or cannot. */
  readonly write: (path: string, data: string | Uint8Array, writing: Writing) => Promise<void>
  /** Looks beforehand whether it may be written, for the work that goes before. @throws BadInput when not. */
  readonly mayWrite?: (path: string, writing: Writing) => Promise<void>
  /** Where model files are; left out: there are none. */
  readonly files?: ModelFolder
  readonly out: (text: string) => void
  readonly err: (text: string) => void
}

/** What one option takes: what stands for its value in the help, or null for a switch; `many`: it may be given again. */
export interface Option {
  readonly takes: string | null
  readonly many?: true
}
export type Options = Readonly<Record<string, Option>>

/** What was given of some options, by name. */
export type Given = Readonly<Record<string, string | true | readonly string[] | undefined>>
type Value<O extends Option> = O extends { many: true }
  ? readonly string[]
  : O extends { takes: null }
    ? true
    : string
export type Values<O extends Options> = { readonly [K in keyof O]?: Value<O[K]> | undefined }

/** What a command has of {@link CommandIo}: what it must not write onto is seen to for it. */
export interface AskedIo extends Omit<CommandIo, 'write' | 'mayWrite' | 'err'> {
  /** Says something on stderr, on a line of its own. */
  readonly warn: (message: string) => void
  /** Writes the file that `--out` names. */
  readonly write: (path: string, data: string | Uint8Array) => Promise<void>
}

/** One command's file, options and way out, as helpers of several commands take them. */
export interface Asked {
  readonly file: string
  /** The second file of a command that takes two. */
  readonly other?: string
  readonly values: Given
  readonly io: AskedIo
}
/** The same for a command, with its own options only. */
export type Call<O extends Options> = Omit<Asked, 'values'> & { readonly values: Values<O> }

interface Described<O extends Options> {
  readonly name: string
  /** Its lines of the help, indented by two. */
  readonly help: string
  readonly options: O
  readonly twoFiles?: true
}
export interface Command extends Described<Options> {
  /** @returns the exit code: 0 nothing open, 1 open findings. @throws BadInput for exit code 2. */
  readonly run: (asked: Asked) => Promise<number>
}

/** A command among others. Its values are read by its own `options`, so that `run` gets those and no others. */
export const command = <O extends Options>(
  one: Described<O> & { readonly run: (call: Call<O>) => Promise<number> },
): Command => ({ ...one, run: asked => one.run(asked as Call<O>) })
